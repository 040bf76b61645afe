"""Merkle trees as RFC 6962 section 2.1 defines them, with SHA-256: roots, and proofs that they hold or extend.

Pure: hashes in, hashes out. A leaf is SHA-256(00 ‖ data), a node SHA-256(01 ‖ left ‖ right), the empty tree
SHA-256 of nothing; a tree of n leaves splits at the largest power of two below n. The **edge** of a tree is the roots
of its complete subtrees from left to right, one for each 1 in the binary form of n: enough to append to it.
"""

import hashlib
from collections.abc import Sequence

HASH_BYTES = 32
EMPTY_ROOT = hashlib.sha256(b"").digest()


class ProofError(ValueError):
    """A proof does not show what it claims; the text says why."""


def leaf_hash(data: bytes) -> bytes:
    """Give the hash of a leaf: 32 bytes."""
    return hashlib.sha256(b"\x00" + data).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """Give the hash of a node over its two children: 32 bytes."""
    return hashlib.sha256(b"\x01" + left + right).digest()


def append(edge: Sequence[bytes], size: int, leaf: bytes) -> list[bytes]:
    """Give the edge of the tree of `size` leaves with one leaf hash more; the work is O(log n).

    Raises:
        ValueError: The edge does not have a hash for each 1 in the binary form of `size`.
    """
    if len(edge) != size.bit_count():
        raise ValueError(f"a tree of {size} leaves has {size.bit_count()} hashes on its edge, not {len(edge)}")
    grown = [*edge, leaf]
    while size & 1:
        right = grown.pop()
        grown[-1] = node_hash(grown[-1], right)
        size >>= 1
    return grown


def root_of_edge(edge: Sequence[bytes]) -> bytes:
    """Give the root of the tree with this edge."""
    if not edge:
        return EMPTY_ROOT
    root = edge[-1]
    for left in reversed(edge[:-1]):
        root = node_hash(left, root)
    return root


def root_of(leaves: Sequence[bytes]) -> bytes:
    """Give the root over leaf hashes, by the recursive definition of RFC 6962."""
    if not leaves:
        return EMPTY_ROOT
    if len(leaves) == 1:
        return leaves[0]
    split = _split(len(leaves))
    return node_hash(root_of(leaves[:split]), root_of(leaves[split:]))


def inclusion_proof(leaves: Sequence[bytes], index: int) -> list[bytes]:
    """Give the audit path of the leaf at `index` (RFC 6962 section 2.1.1).

    Raises:
        IndexError: There is no such leaf.
    """
    if not 0 <= index < len(leaves):
        raise IndexError(f"there is no leaf {index} in a tree of {len(leaves)}")
    if len(leaves) == 1:
        return []
    split = _split(len(leaves))
    if index < split:
        return [*inclusion_proof(leaves[:split], index), root_of(leaves[split:])]
    return [*inclusion_proof(leaves[split:], index - split), root_of(leaves[:split])]


def consistency_proof(leaves: Sequence[bytes], earlier: int) -> list[bytes]:
    """Give the proof that the tree over the first `earlier` leaves is the start of this one (section 2.1.2).

    Raises:
        IndexError: `earlier` is not from 1 to the number of leaves.
    """
    if not 1 <= earlier <= len(leaves):
        raise IndexError(f"a tree of {len(leaves)} leaves extends none of {earlier}")
    return _subproof(leaves, earlier, complete=True)


def check_inclusion(leaf: bytes, index: int, size: int, proof: Sequence[bytes], root: bytes) -> None:
    """Check that the leaf hash stands at `index` of the tree of `size` leaves with this root.

    Raises:
        ProofError: It does not, or the proof has too few or too many hashes.
    """
    _check_lengths([leaf, root, *proof])
    if not 0 <= index < size:
        raise ProofError(f"there is no leaf {index} in a tree of {size}")
    node, last, found = index, size - 1, leaf
    for sibling in proof:
        if last == 0:
            raise ProofError("the proof has hashes left over")
        if node & 1 or node == last:
            found = node_hash(sibling, found)
            while not node & 1 and node:
                node, last = node >> 1, last >> 1
        else:
            found = node_hash(found, sibling)
        node, last = node >> 1, last >> 1
    if last:
        raise ProofError("the proof lacks hashes")
    if found != root:
        raise ProofError(f"the proof leads to the root {found.hex()}, not {root.hex()}")


def check_consistency(size1: int, size2: int, proof: Sequence[bytes], root1: bytes, root2: bytes) -> None:
    """Check that the tree of `size2` leaves with `root2` begins with the tree of `size1` leaves with `root1`.

    Raises:
        ProofError: It does not, or the proof has too few or too many hashes.
    """
    _check_sizes(size1, size2)
    if size1 == size2:
        # Two equal sizes need no hashes; their roots may be any bytes as long as they are the same.
        if proof or root1 != root2:
            raise ProofError("trees of the same size must have the same root and no proof")
        return
    _check_lengths([root1, root2, *proof])
    path = [root1, *proof] if size1 & (size1 - 1) == 0 else list(proof)
    if not path:
        raise ProofError("the proof lacks hashes")
    first, last = size1 - 1, size2 - 1
    while first & 1:
        first, last = first >> 1, last >> 1
    found1 = found2 = path[0]
    for sibling in path[1:]:
        if last == 0:
            raise ProofError("the proof has hashes left over")
        if first & 1 or first == last:
            found1, found2 = node_hash(sibling, found1), node_hash(sibling, found2)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            found2 = node_hash(found2, sibling)
        first, last = first >> 1, last >> 1
    if last or found1 != root1 or found2 != root2:
        raise ProofError("the proof does not lead from the earlier root to the later one")


def _split(count: int) -> int:
    return 1 << (count - 1).bit_length() - 1


def _subproof(leaves: Sequence[bytes], earlier: int, *, complete: bool) -> list[bytes]:
    if earlier == len(leaves):
        return [] if complete else [root_of(leaves)]
    split = _split(len(leaves))
    if earlier <= split:
        return [*_subproof(leaves[:split], earlier, complete=complete), root_of(leaves[split:])]
    return [*_subproof(leaves[split:], earlier - split, complete=False), root_of(leaves[:split])]


def _check_sizes(size1: int, size2: int) -> None:
    if size1 < 1:
        raise ProofError(f"an earlier tree of {size1} leaves proves nothing")
    if size2 < size1:
        raise ProofError(f"a tree of {size2} leaves cannot extend one of {size1}")


def _check_lengths(hashes: Sequence[bytes]) -> None:
    for value in hashes:
        if len(value) != HASH_BYTES:
            raise ProofError(f"a hash has {HASH_BYTES} bytes, not {len(value)}")
