"""What must stand before what in an order, carried through."""

from collections.abc import Sequence

from trainer.questions.model import Pair


def closure_of(pairs: Sequence[Pair]) -> dict[tuple[str, str], int]:
    """Carry the pairs through; each pair of steps has the place of the first of the file's pairs that leads to it."""
    found = {(pair.before, pair.after): index for index, pair in reversed(list(enumerate(pairs)))}
    grown = True
    while grown:
        more = {
            (before, later): index
            for (before, middle), index in found.items()
            for (start, later) in found
            if start == middle and (before, later) not in found
        }
        grown = bool(more)
        found |= more
    return found
