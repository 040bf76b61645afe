"""Write the journal: one line for each change that somebody made."""

from typing import Any, Protocol
from uuid import UUID

from trainer.base.canonical import canonical_text
from trainer.base.models import JournalEntry


class HasRef(Protocol):
    """Anything known by a ref: an account, a company, a record."""

    ref: UUID


def write(
    verb: str, subject: HasRef | str, *, by: HasRef | None, company: HasRef | None = None, **details: Any
) -> JournalEntry:
    """Add a line; call it inside the transaction of the change it tells of.

    Args:
        verb: What was done, past tense, such as `module-assigned`.
        subject: What it was done to; kept as its model's name and ref.
        by: The account that did it; None for the program itself.
        company: The company that it concerns.
        details: Codes and refs, no names: strings, integers, booleans, lists, objects.
    """
    name = subject if isinstance(subject, str) else f"{type(subject).__name__.lower()}:{subject.ref}"
    return JournalEntry.objects.create(
        verb=verb,
        subject=name,
        actor=None if by is None else by.ref,
        company=None if company is None else company.ref,
        details=canonical_text({key: _plain(value) for key, value in details.items()}),
    )


def _plain(value: Any) -> Any:
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    return value if value is None or isinstance(value, str | int | bool | dict) else str(value)
