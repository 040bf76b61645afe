"""Every rule has a proof from outside the project, or says that it is common practice or a definition."""

from collections.abc import Callable

import pytest

from tests.outside.proofs import proofs
from trainer.rules import REGISTRY

OWNED = {"common practice", "definition"}


@pytest.mark.parametrize("name", REGISTRY)
def test_it_proves_every_rule(name: str, record_property: Callable[[str, object], None]) -> None:
    """A rule that cites a document is checked against somebody else's number; the others own up to what they are."""
    found = list(proofs(name))
    document = REGISTRY[name].source.document

    assert found or document in OWNED, f"no test from outside fails when {name} is wrong"
    record_property("proofs", found or [document])
