"""Change the rules in small ways and count how many of the changes their tests notice.

`python tests/mutation.py [MODULE …]` works on all of `trainer/rules`, or on some of its modules (`safety`, `weather`).
MUTATION_DIGIT=7 tries only the changes whose number ends in 7, a tenth of all; MUTATION_CHILDREN is how many at a time.
It works in a copy under `mutants/`, which holds the rules, their tests and nothing of Django. The mutation tool leaves
decorated functions alone, and every rule is one: in the copy each rule hands its work to a bare function beside it.
"""

import ast
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TREE = ROOT / "mutants"
COPIED = (
    "trainer/__init__.py", "trainer/rules", "tests/__init__.py", "tests/mode.py", "tests/rules", "tests/outside",
    "fixtures", "lessons/specifications",
)  # fmt: skip
WITHOUT = ("test_commands.py", "__pycache__")  # commands start Django
HEAVY = "tests/rules/test_registry.py::test_it_imports_without_heavy_modules"  # the tool itself imports them
SETTINGS = """
[tool.mutmut]
source_paths = ["trainer/rules/"]
only_mutate = [{only}]
pytest_add_cli_args_test_selection = ["tests/rules", "tests/outside"]
pytest_add_cli_args = ["-p", "no:django", "-p", "no:cacheprovider", "-p", "no:xdist", "--deselect", "{heavy}"]
also_copy = ["trainer/", "fixtures/", "lessons/"]
track_dependencies = false
[tool.pytest.ini_options]
addopts = ["-q", "-p", "tests.mode", "--import-mode=importlib"]
pythonpath = ["."]
"""
NOTICED = ("killed", "timeout", "segfault")
PASSED_OVER = ("survived", "no_tests", "suspicious")


def split_rules(source: str) -> str:
    """Give the module with the body of every rule in a function of its own, which the rule calls."""
    lines = source.split("\n")
    functions = [node for node in ast.parse(source).body if isinstance(node, ast.FunctionDef) and node.decorator_list]
    for node in reversed(functions):
        body = node.body[1:] if ast.get_docstring(node) is not None else node.body
        names = [argument.arg for argument in node.args.args]
        start, end = body[0].lineno - 1, node.end_lineno
        if body[0] is not node.body[0]:
            start = node.body[0].end_lineno or start
        bare = [f"def work_{node.name}({', '.join(names)}):", *lines[start:end], "", ""]
        lines[start:end] = [f"    return work_{node.name}({', '.join(names)})"]
        first = node.decorator_list[0].lineno - 1
        lines[first:first] = bare
    return "\n".join(lines)


def prepare(modules: list[str]) -> None:
    """Lay out the copy afresh; what the tool knows of an earlier run is dropped."""
    shutil.rmtree(TREE, ignore_errors=True)
    for name in COPIED:
        source, target = ROOT / name, TREE / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if source.is_dir():
            shutil.copytree(source, target, ignore=shutil.ignore_patterns(*WITHOUT))
        else:
            shutil.copy(source, target)
    for path in (TREE / "trainer" / "rules").glob("*.py"):
        path.write_text(split_rules(path.read_text(encoding="utf-8")), encoding="utf-8")
    only = ", ".join(f'"trainer/rules/{module}.py"' for module in modules) or '"trainer/rules/*"'
    (TREE / "pyproject.toml").write_text(SETTINGS.format(only=only, heavy=HEAVY), encoding="utf-8")


def main(modules: list[str]) -> int:
    """Run the tool and print the figures with every survivor; give 1 when fewer than 90 % are noticed."""
    prepare(modules)
    environment = {**os.environ, "HYPOTHESIS_PROFILE": "mutation", "PYTHONDONTWRITEBYTECODE": "1"}
    mutmut = [sys.executable, "-m", "mutmut"]
    children = os.environ.get("MUTATION_CHILDREN", "1")
    with (TREE / "progress.txt").open("w", encoding="utf-8") as progress:
        run = [*mutmut, "run", "--max-children", children, f"*{os.environ.get('MUTATION_DIGIT', '')}"]
        subprocess.run(run, cwd=TREE, check=True, env=environment, stdout=progress, stderr=progress)
    subprocess.run([*mutmut, "export-cicd-stats"], cwd=TREE, check=True, stdout=subprocess.DEVNULL)
    stats = json.loads((TREE / "mutants" / "mutmut-cicd-stats.json").read_text(encoding="utf-8"))
    noticed = sum(stats[kind] for kind in NOTICED)
    total = noticed + sum(stats[kind] for kind in PASSED_OVER)
    survivors = subprocess.run([*mutmut, "results"], cwd=TREE, check=True, capture_output=True, text=True).stdout
    share = 100 * noticed / total
    kept = [line.strip() for line in survivors.splitlines() if not line.endswith((": not checked", ": timeout"))]
    sys.stdout.write("\n".join(kept))
    sys.stdout.write(f"\nmutants of the rules: {total}, noticed {noticed} ({share:.1f} %)\n")
    return 0 if share >= 90 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
