"""Canonical JSON text: sorted keys, no spaces, and only values that every reader writes the same way.

With strings, integers, booleans, lists and objects alone, this text equals RFC 8785 for ASCII keys, so a digest can be
worked out again by anybody.
"""

import hashlib
import json
from typing import Any


def canonical_text(document: Any) -> str:
    """Give the canonical text of a document of strings, integers, booleans, nulls, lists and string-keyed objects.

    Raises:
        TypeError: The document holds something else, a float above all; shows where.
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
    elif value is not None and not isinstance(value, str | int | bool):
        raise TypeError(f"{where} is {value!r} ({type(value).__name__}); write it as text with its unit")
