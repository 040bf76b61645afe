"""Ends a run of these tests with the table of rules by kind of proof."""

from collections import defaultdict

import pytest


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Write which rules are checked from outside, and by what, and which are common practice or a definition."""
    kinds: dict[str, list[str]] = defaultdict(list)
    outside = total = 0
    for report in terminalreporter.getreports("passed"):
        proofs = dict(report.user_properties).get("proofs")
        if proofs:
            name = report.nodeid.partition("[")[2].rstrip("]")
            total += 1
            outside += not {"common practice", "definition"}.intersection(proofs)
            for kind in proofs:
                kinds[kind].append(name)
    if total:
        terminalreporter.section("rules by kind of proof")
        terminalreporter.write_line(
            f"{outside} of {total} rules are checked from outside: a test of theirs fails when the rule is spoiled"
        )
        for kind, names in sorted(kinds.items()):
            terminalreporter.write_line(f"{kind}: {len(names)}")
            terminalreporter.write_line(f"  {', '.join(sorted(names))}")
