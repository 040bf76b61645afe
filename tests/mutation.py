"""Change the rules in small ways and count how many of the changes their tests notice.

`python tests/mutation.py [MODULE …]` works on all of `trainer/rules`, or on some of its modules (`safety`, `weather`).
MUTATION_DIGIT=7 tries only the changes whose number ends in 7, a tenth of all; MUTATION_CHILDREN is how many at a time.
It works in a copy under `mutants/`, which holds the rules, their tests and nothing of Django. The mutation tool leaves
decorated functions alone, and every rule is one: in the copy each rule hands its work to a bare function beside it.

The tool makes the changes; `tests/mutants.py` tries them. Where a function had done its work before, while the rules
were imported, a change that seems to survive is tried once more in a fresh process.
"""

import ast
import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

from mutmut.mutation.file_mutation import mutate_file_contents

ROOT = Path(__file__).resolve().parent.parent
TREE = ROOT / "mutants"
RULES = TREE / "trainer" / "rules"
COPIED = (
    "trainer/__init__.py", "trainer/rules", "tests/__init__.py", "tests/mode.py", "tests/mutants.py", "tests/rules",
    "tests/outside", "fixtures", "lessons/specifications",
)  # fmt: skip
WITHOUT = ("test_commands.py", "__pycache__")  # commands start Django
SWITCH = "from mutmut.mutation.trampoline import wrap_in_trampoline as _mutmut_mutated, MutantDict"
OURS = "from tests.mutants import switch as _mutmut_mutated, MutantDict"
HEAVY = "tests/rules/test_registry.py::test_it_imports_without_heavy_modules"  # the switch itself imports some
KEPT = ("trainer.rules.words.x_work__table_", "trainer.rules.words.x_work_words_")  # what they give is kept
SETTINGS = """
[tool.mutmut]
source_paths = ["trainer/rules/"]
[tool.pytest.ini_options]
addopts = ["-q", "-p", "tests.mode", "-p", "tests.mutants", "--import-mode=importlib"]
pythonpath = ["."]
"""
TESTS = (
    "-m", "pytest", "-x", "-s", "--assert=plain", "--tb=native", "-p", "no:django", "-p", "no:cacheprovider",
    "-p", "no:xdist", "-p", "no:randomly", "--deselect", HEAVY, "tests/rules", "tests/outside",
)  # fmt: skip


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


def prepare(modules: list[str]) -> list[str]:
    """Lay out the copy afresh; give the names of all changes."""
    shutil.rmtree(TREE, ignore_errors=True)
    for name in COPIED:
        source, target = ROOT / name, TREE / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if source.is_dir():
            shutil.copytree(source, target, ignore=shutil.ignore_patterns(*WITHOUT))
        else:
            shutil.copy(source, target)
    (TREE / "pyproject.toml").write_text(SETTINGS, encoding="utf-8")
    os.chdir(TREE)  # the tool looks for its settings here
    mutants: list[str] = []
    for path in sorted(RULES.glob("*.py")):
        if path.stem != "__init__" and (not modules or path.stem in modules):
            made = mutate_file_contents(str(path), split_rules(path.read_text(encoding="utf-8")))
            path.write_text(made.code.replace(SWITCH, OURS), encoding="utf-8")
            mutants += [f"trainer.rules.{path.stem}.{name}" for name in made.mutant_names]
    return mutants


def environment(**more: str) -> dict[str, str]:
    """Give the environment of a run in the copy."""
    return {**os.environ, "HYPOTHESIS_PROFILE": "mutation", "PYTHONDONTWRITEBYTECODE": "1", **more}


def unnoticed_afresh(mutant: str) -> bool:
    """Say whether all tests pass in a process that works with the change from the start."""
    run = subprocess.run([sys.executable, *TESTS], cwd=TREE, env=environment(MUTANT=mutant), capture_output=True)  # noqa: PLW1510
    return run.returncode == 0


def main(modules: list[str]) -> int:
    """Try the changes and print the figures with every survivor; give 1 when fewer than 90 % are noticed."""
    digit = os.environ.get("MUTATION_DIGIT", "")
    mutants = [name for name in prepare(modules) if name.endswith(digit)]
    plan = {"mutants": mutants, "children": int(os.environ.get("MUTATION_CHILDREN", "1"))}
    (TREE / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
    subprocess.run([sys.executable, *TESTS], cwd=TREE, env=environment(), check=True, stdout=subprocess.DEVNULL)
    found = json.loads((TREE / "found.json").read_text(encoding="utf-8"))
    left = [name for name in mutants if found[name] != "noticed"]
    survivors = [
        name for name in left
        if not (found[name] == "unsure" or name.startswith(KEPT)) or unnoticed_afresh(name)
    ]  # fmt: skip
    total, open_ = (Counter(name.split(".")[2] for name in some) for some in (mutants, survivors))
    sys.stdout.write("".join(f"{name}\n" for name in survivors))
    for module, count in sorted(total.items()):
        share = 100 * (1 - open_[module] / count)
        sys.stdout.write(f"{module}: {count}, noticed {count - open_[module]} ({share:.1f} %)\n")
    share = 100 * (1 - len(survivors) / len(mutants))
    sys.stdout.write(f"changes of the rules: {len(mutants)}, noticed {len(mutants) - len(survivors)} ({share:.1f} %)\n")
    return 0 if share >= 90 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
