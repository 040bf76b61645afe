"""Random identifiers: UUID4 refs, tokens, salts and printable codes.

Inside `seeded` they repeat for the same seed, so that the demo is the same for the same day. Nothing that guards a
real sign-in may be made there.
"""

import random
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from uuid import UUID

CROCKFORD = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_source: ContextVar[random.Random | None] = ContextVar("id_source", default=None)


@contextmanager
def seeded(seed: str) -> Iterator[None]:
    """Draw every identifier inside the block from a generator with this seed."""
    token = _source.set(random.Random(seed))  # noqa: S311  repeatable demo data, not a secret
    try:
        yield
    finally:
        _source.reset(token)


def random_bytes(count: int) -> bytes:
    """Give `count` random bytes from the operating system, or from the seeded generator."""
    source = _source.get()
    return secrets.token_bytes(count) if source is None else source.randbytes(count)


def new_ref() -> UUID:
    """Give a UUID4 for an address, a record or a client's send."""
    return UUID(bytes=random_bytes(16), version=4)


def new_token() -> str:
    """Give 256 random bits in hexadecimal, for a link that signs somebody in."""
    return random_bytes(32).hex()


def new_salt() -> str:
    """Give 128 random bits in hexadecimal, to bind a sealed text to its digest."""
    return random_bytes(16).hex()


def new_code(length: int = 12) -> str:
    """Give a code of Crockford base-32 letters that a person can read off paper (5 bits a letter)."""
    return "".join(CROCKFORD[byte % 32] for byte in random_bytes(length))


def read_code(text: str) -> str:
    """Read a code as somebody typed it: any case, only letters and digits count, I L O taken for 1 1 0."""
    letters = "".join(letter for letter in text.upper() if letter.isascii() and letter.isalnum())
    return letters.translate(str.maketrans("ILO", "110"))
