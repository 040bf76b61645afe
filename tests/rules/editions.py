"""Golden values: what every rule gave when its edition was last raised.

`python -m tests.rules.editions` writes them to `fixtures/editions.json`. It refuses to write over a value that changed
while the edition stayed: raise the edition of the rule first.
"""

import json
import sys
from pathlib import Path
from typing import Any

from tests.rules.samples import sample, scaled
from trainer.rules import REGISTRY, Rule

FILE = Path(__file__).parents[2] / "fixtures" / "editions.json"


def plain(value: Any) -> Any:
    """Give a value as text that keeps every digit: fractions, counts, lists of fractions."""
    if isinstance(value, tuple):
        return [plain(entry) for entry in value]
    return str(value)


def worked(rule: Rule[..., Any], inputs: dict[str, Any]) -> dict[str, Any]:
    """Work a rule and write down all of it: what went in, value, what it was before rounding, and the steps."""
    working = rule.work(**inputs)
    return {
        "inputs": {name: plain(value) for name, value in inputs.items()},
        "value": plain(working.value),
        "before_rounding": plain(working.before_rounding),
        "steps": {step.name: [plain(step.value), step.expression] for step in working.steps},
    }


def golden(rule: Rule[..., Any]) -> dict[str, Any]:
    """Work a rule at its sample and at the sample three times as large, and list its limits."""
    once = sample(rule)
    cases = [once, scaled(rule, once, 3)] if rule.scales else [once]
    return {
        "edition": rule.edition,
        "limits": [
            f"{limit.name} {limit.relation} {limit.bound}" + (f" + {limit.plus}" if limit.plus else "")
            for limit in rule.limits
        ],
        "cases": [worked(rule, inputs) for inputs in cases],
    }


def forgotten(stored: dict[str, Any], found: dict[str, Any]) -> list[str]:
    """List rules whose cases changed though their edition did not, or that were never written down."""
    names = []
    for name, entry in found.items():
        old = stored.get(name)
        if old is None or (old["edition"] == entry["edition"] and old["cases"] != entry["cases"]):
            names.append(name)
    return names


def main() -> int:
    """Write the golden values; give 1 when a changed rule kept its edition."""
    found = {name: golden(rule) for name, rule in sorted(REGISTRY.items())}
    stored = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}
    kept = [
        name
        for name in forgotten(stored, found)
        if name in stored and any(
            old["inputs"] == new["inputs"] and old["value"] != new["value"]
            for old, new in zip(stored[name]["cases"], found[name]["cases"], strict=False)
        )
    ]  # fmt: skip
    if kept:
        sys.stderr.write(f"{', '.join(kept)}: a value changed and the edition did not; raise the edition first\n")
        return 1
    FILE.write_text(json.dumps(found, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
