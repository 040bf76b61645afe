"""The Merkle tree against the vectors of transparency-dev/merkle (Apache-2.0), kept in fixtures/published/merkle."""

import base64
import json
from pathlib import Path
from typing import Any

import pytest

from trainer.records import merkle

VECTORS = Path(__file__).resolve().parents[2] / "fixtures" / "published" / "merkle"
LEAVES = [merkle.leaf_hash(bytes([number])) for number in range(64)]


def vectors(name: str) -> list[Any]:
    """Read one list of vectors as pytest parameters, known by origin."""
    return [pytest.param(row, id=row["origin"]) for row in json.loads((VECTORS / name).read_text())]


def decoded(row: dict[str, Any], *names: str) -> list[bytes]:
    """Give base64 fields as bytes."""
    return [base64.b64decode(row[name]) for name in names]


def accepts(check: Any, *arguments: Any) -> bool:
    """Tell whether a check lets its arguments pass."""
    try:
        check(*arguments)
    except merkle.ProofError:
        return False
    return True


def test_it_holds_all_the_published_vectors() -> None:
    """The copies are whole: 196 files of the origin."""
    assert len(vectors("inclusion_vectors.json")) + len(vectors("consistency_vectors.json")) == 196


@pytest.mark.parametrize("row", vectors("inclusion_vectors.json"))
def test_it_judges_inclusion_as_published(row: dict[str, Any]) -> None:
    """An inclusion proof is accepted exactly where the vector says so."""
    leaf, root = decoded(row, "leafHash", "root")
    proof = [base64.b64decode(item) for item in row["proof"] or []]

    accepted = accepts(merkle.check_inclusion, leaf, row["leafIdx"], row["treeSize"], proof, root)

    assert accepted is not row["wantErr"]


@pytest.mark.parametrize("row", vectors("consistency_vectors.json"))
def test_it_judges_consistency_as_published(row: dict[str, Any]) -> None:
    """A consistency proof is accepted exactly where the vector says so."""
    root1, root2 = decoded(row, "root1", "root2")
    proof = [base64.b64decode(item) for item in row["proof"] or []]

    accepted = accepts(merkle.check_consistency, row["size1"], row["size2"], proof, root1, root2)

    assert accepted is not row["wantErr"]


def test_it_gives_the_published_roots() -> None:
    """Recursive root and appended edge both give the root of every published size."""
    tree = json.loads((VECTORS / "rfc6962_tree.json").read_text())
    leaves = [merkle.leaf_hash(bytes.fromhex(text)) for text in tree["leaf_inputs_hex"]]
    edge: list[bytes] = []
    for size, wanted in enumerate(tree["root_by_size_hex"]):
        assert merkle.root_of(leaves[:size]).hex() == wanted
        assert merkle.root_of_edge(edge).hex() == wanted
        if size < len(leaves):
            edge = merkle.append(edge, size, leaves[size])


def test_it_appends_to_the_same_root_up_to_64_leaves() -> None:
    """The edge never parts from the definition."""
    edge: list[bytes] = []
    for size, leaf in enumerate(LEAVES):
        edge = merkle.append(edge, size, leaf)

        assert merkle.root_of_edge(edge) == merkle.root_of(LEAVES[: size + 1])


def test_it_proves_every_leaf_and_every_earlier_tree_up_to_64_leaves() -> None:
    """Each proof made is accepted; each one with a flipped bit, a hash less or a hash more is refused."""
    for size in range(1, 65):
        leaves = LEAVES[:size]
        root = merkle.root_of(leaves)
        for index in range(size):
            proof = merkle.inclusion_proof(leaves, index)
            assert accepts(merkle.check_inclusion, leaves[index], index, size, proof, root)
            assert not accepts(merkle.check_inclusion, leaves[index - 1], index, size, [*proof, root], root)
            if proof:
                assert not accepts(merkle.check_inclusion, leaves[index], index, size, proof[1:], root)
        for earlier in range(1, size + 1):
            root1 = merkle.root_of(leaves[:earlier])
            proof = merkle.consistency_proof(leaves, earlier)
            assert accepts(merkle.check_consistency, earlier, size, proof, root1, root)
            broken = bytes([root1[0] ^ 1]) + root1[1:]
            assert not accepts(merkle.check_consistency, earlier, size, proof, broken, root)


def test_it_refuses_an_edge_of_the_wrong_size() -> None:
    """An edge that does not belong to the size would give a wrong root without a word."""
    with pytest.raises(ValueError, match="tree of 3 leaves has 2 hashes on its edge, not 1"):
        merkle.append(LEAVES[:1], 3, LEAVES[0])


def test_it_refuses_proofs_of_what_is_not_there() -> None:
    """Asking for a leaf or an earlier tree that does not exist says so."""
    with pytest.raises(IndexError, match="no leaf 4 in a tree of 4"):
        merkle.inclusion_proof(LEAVES[:4], 4)
    with pytest.raises(IndexError, match="extends none of 0"):
        merkle.consistency_proof(LEAVES[:4], 0)
