"""Print every load figure in one run. Nothing is asserted: machines differ, so what counts is each ratio."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
PARTS = ("rules", "cases", "lessons", "answers", "matrix")


def main() -> int:
    """Run each part in a process of its own; give 1 when one of them fails."""
    failed = 0
    for part in PARTS:
        done = subprocess.run([sys.executable, "-m", f"tests.load.{part}"], cwd=ROOT, check=False)
        failed |= done.returncode
    return failed


if __name__ == "__main__":
    sys.exit(main())
