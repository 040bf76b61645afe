"""Sources that must be read again: states change what they ask for, so a row holds for 12 months after it was read."""

from collections.abc import Iterable, Iterator
from datetime import date

from trainer.rules.working import Source

FEDERAL = "US"  # jurisdictions that start so are federal, or a model for all states


def of_a_state(source: Source) -> bool:
    """Say whether a source holds in one state or place only."""
    return bool(source.jurisdiction) and not source.jurisdiction.startswith(FEDERAL)


def stale(sources: Iterable[tuple[str, Source]], today: date) -> Iterator[tuple[str, str]]:
    """Give the name of each state's source that nobody read in the last 12 months, and what to do about it.

    A day to come is no reading: it would keep a row for as long as somebody wished.
    """
    for name, source in sources:
        if not of_a_state(source):
            continue
        place = source.jurisdiction
        mending = f'Read it again, mend the value if it changed, then write read_on = "{today.isoformat()}".'
        if not source.read_on:
            yield name, f"{name}: the source in {place} does not say when it was read. {mending}"
            continue
        read = date.fromisoformat(source.read_on)
        if read > today:
            yield (
                name,
                f"{name}: the source in {place} is said to be read on {source.read_on}, a day to come. {mending}",
            )
        if (today.year, today.month, today.day) > (read.year + 1, read.month, read.day):
            yield name, f"{name}: the source in {place} was read on {source.read_on}, over 12 months ago. {mending}"
