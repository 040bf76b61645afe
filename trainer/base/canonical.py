"""Canonical JSON text: sorted keys, no spaces, and only values that every reader writes the same way.

With strings, integers, booleans, lists and objects alone, this text equals RFC 8785 for ASCII keys, so a digest can be
worked out again by anybody.
"""

import hashlib
import json
from typing import Any

MOST_EXACT = 2**53 - 1


def canonical_text(document: Any) -> str:
    """Give the canonical text of a document of strings, integers, booleans, nulls, lists and string-keyed objects.

    Raises:
        TypeError: The document holds something else: a float above all, an integer that not every reader keeps
            exactly (beyond 2**53 - 1, RFC 7493), or half of a surrogate pair. Shows where.
    """
    _refuse_ambiguous(document, "document")
    return json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def sha256_hex(text: str) -> str:
    """Give the SHA-256 of a text's UTF-8 bytes, in hexadecimal."""
    return hashlib.sha256(text.encode()).hexdigest()


def _refuse_ambiguous(value: Any, where: str) -> None:
    if isinstance(value, dict):
        for key, item in value.items():
            if not isinstance(key, str) or not key.isascii():
                raise TypeError(f"{where} has the key {key!r}; canonical JSON takes ASCII text keys")
            _refuse_ambiguous(item, f"{where}.{key}")
    elif isinstance(value, list):
        for number, item in enumerate(value):
            _refuse_ambiguous(item, f"{where}[{number}]")
    else:
        _refuse_ambiguous_scalar(value, where)


def _refuse_ambiguous_scalar(value: Any, where: str) -> None:
    if isinstance(value, str):
        if any("\ud800" <= letter <= "\udfff" for letter in value):
            raise TypeError(f"{where} is {value!r}, which holds half of a surrogate pair; write whole characters")
    elif isinstance(value, int):  # a boolean is one too, and small
        if abs(value) > MOST_EXACT:
            raise TypeError(f"{where} is {value}; readers keep integers exact up to {MOST_EXACT}, so write it as text")
    elif value is not None:
        raise TypeError(f"{where} is {value!r} ({type(value).__name__}); write it as text with its unit")
