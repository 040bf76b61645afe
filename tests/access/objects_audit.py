"""Objects of the audit that addresses name: none; its addresses name only the company."""

from typing import Any

from tests.access.world import World


def make(world: World) -> dict[str, Any]:
    """Add nothing."""
    return {}
