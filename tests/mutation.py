"""Change the rules in small ways and count how many of the changes the tests notice; print the share and survivors."""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
STATS = ROOT / "mutants" / "mutmut-cicd-stats.json"


def main() -> int:
    """Run the mutation tool over `trainer/rules` (see pyproject.toml) and print its figures."""
    mutmut = [sys.executable, "-m", "mutmut"]
    subprocess.run([*mutmut, "run"], cwd=ROOT, check=True)
    subprocess.run([*mutmut, "export-cicd-stats"], cwd=ROOT, check=True)
    stats = json.loads(STATS.read_text())
    killed, total = stats["killed"] + stats.get("timeout", 0), stats["total"]
    sys.stdout.write(f"mutants of the rules: {total}, noticed {killed} ({100 * killed / total:.1f} %)\n")
    survivors = subprocess.run([*mutmut, "results"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    sys.stdout.write(survivors)
    return 0


if __name__ == "__main__":
    sys.exit(main())
