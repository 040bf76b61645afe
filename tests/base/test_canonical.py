"""Canonical JSON: one text for one document, whoever writes it."""

import hashlib
import json
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.base.canonical import canonical_text, sha256_hex

# Surrogates have no UTF-8; integers are those that every reader keeps (RFC 7493, section 2.2).
TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
SCALARS = st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | TEXTS
KEYS = st.text(st.characters(max_codepoint=127))
DOCUMENTS = st.recursive(SCALARS, lambda inside: st.lists(inside) | st.dictionaries(KEYS, inside), max_leaves=20)


def test_it_writes_strings_as_rfc_8785_does() -> None:
    """RFC 8785, section 3.2.2.2 (JSON Canonicalization Scheme), its sample string: quotes, slashes, controls, €, $."""
    sample = json.loads(r'"€$\u000F\u000aA\u0027\u0042\u0022\u005c\\\"\/"')

    assert canonical_text({"string": sample}) == r'{"string":"€$\u000f\nA' + "'" + r'B\"\\\\\"/"}'


def test_it_writes_literals_as_rfc_8785_does() -> None:
    """RFC 8785, section 3.2.2.1: null, true and false; section 3.2.1: no whitespace; section 3.2.3: keys sorted."""
    assert canonical_text({"numbers": [333], "literals": [None, True, False]}) == (
        '{"literals":[null,true,false],"numbers":[333]}'
    )


@given(DOCUMENTS)
def test_it_says_the_same_as_the_document(document: Any) -> None:
    """Reading the text gives the document back."""
    assert json.loads(canonical_text(document)) == document


@given(st.dictionaries(KEYS, SCALARS))
def test_it_does_not_depend_on_the_order_of_keys(document: dict[str, Any]) -> None:
    """The same keys in another order make the same text."""
    assert canonical_text(dict(reversed(document.items()))) == canonical_text(document)


@pytest.mark.parametrize(
    ("document", "where"),
    [
        ({"length": 3.5}, "document.length is 3.5 (float)"),
        ([{"x": Fraction(1, 2)}], "document[0].x"),
        ({"sum": 2**53}, "document.sum"),
        ({"name": "\ud800"}, "document.name"),
        ({"naïve": 1}, "document has the key 'naïve'"),
        ({1: "x"}, "document has the key 1"),
        ({"when": (1, 2)}, "document.when"),
    ],
    ids=["float", "fraction", "large integer", "half a surrogate pair", "key beyond ASCII", "key no text", "tuple"],
)
def test_it_refuses_what_readers_write_differently(document: Any, where: str) -> None:
    """The error says where in the document."""
    with pytest.raises(TypeError) as refused:
        canonical_text(document)

    assert str(refused.value).startswith(where)


def test_it_hashes_the_utf_8_bytes() -> None:
    """The digest of a text is the SHA-256 of its UTF-8 bytes (FIPS 180-4; its example digest of “abc”)."""
    assert sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert sha256_hex("ñ") == hashlib.sha256(b"\xc3\xb1").hexdigest()
