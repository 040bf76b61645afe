"""Ends a run of these tests with the table of rules by kind of proof."""

from collections import defaultdict

import pytest


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Write which rules are checked from outside, and which say that they are common practice or a definition."""
    ran = {report.nodeid for report in terminalreporter.getreports("passed")}
    if not any("test_every_rule.py" in node for node in ran):
        return
    from tests.outside.test_every_rule import proof
    from trainer.rules import REGISTRY

    kinds: dict[str, list[str]] = defaultdict(list)
    for name in sorted(REGISTRY):
        kinds[proof(name)].append(name)
    terminalreporter.section("rules by kind of proof")
    for kind, names in sorted(kinds.items()):
        terminalreporter.write_line(f"{kind}: {len(names)}")
        terminalreporter.write_line(f"  {', '.join(names)}")
