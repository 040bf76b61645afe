"""Change the rules in small ways and count how many of the changes their tests notice.

`python tests/mutation.py [MODULE …]` works on all of `trainer/rules`, or on some of its modules (`safety`, `weather`).
MUTATION_DIGIT=7 tries only the changes whose number ends in 7, a tenth of all; MUTATION_CHILDREN is how many at a time,
by default one for each processor. All of them take about half an hour of a processor's time.

It works in a copy under `mutants/`, which holds the rules, their tests and nothing of Django. The mutation tool leaves
decorated functions alone, and every rule is one: in the copy each rule hands its work to a bare function beside it.

The tool makes the changes; `tests/mutants.py` tries them. A change is noticed when a test fails, or takes five seconds
and ten times as long as without it. What is not noticed is printed with the lines that it takes out and puts in.
"""

import ast
import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from difflib import ndiff
from functools import cache
from pathlib import Path

from mutmut.mutation.file_mutation import mutate_file_contents

ROOT = Path(__file__).resolve().parent.parent
TREE = ROOT / "mutants"
RULES = TREE / "trainer" / "rules"
COPIED = (
    "trainer/__init__.py", "trainer/rules", "tests/__init__.py", "tests/mode.py", "tests/mutants.py", "tests/rules",
    "tests/outside", "fixtures", "lessons/specifications",
)  # fmt: skip
WITHOUT = ("test_commands.py", "test_every_rule.py", "__pycache__")  # commands start Django; this one runs the others
SWITCH = "from mutmut.mutation.trampoline import wrap_in_trampoline as _mutmut_mutated, MutantDict"
OURS = "from tests.mutants import switch as _mutmut_mutated, MutantDict"
HEAVY = "tests/rules/test_registry.py::test_it_imports_without_heavy_modules"  # the switch itself imports some
SETTINGS = """
[tool.mutmut]
source_paths = ["trainer/rules/"]
[tool.pytest.ini_options]
addopts = ["-q", "-p", "tests.mode", "-p", "tests.mutants", "--import-mode=importlib"]
pythonpath = ["."]
"""
TESTS = (
    "-m", "pytest", "-x", "-s", "--assert=plain", "--tb=native", "-p", "no:cacheprovider", "--deselect", HEAVY,
    "tests/rules", "tests/outside",
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


def run_tests() -> None:
    """Run pytest in the copy; `tests/mutants.py` says what it does there.

    Plugins would set themselves up again in each of thousands of processes.
    """
    environment = {**os.environ, "HYPOTHESIS_PROFILE": "mutation", "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    subprocess.run([sys.executable, *TESTS], cwd=TREE, env=environment, check=True, stdout=subprocess.DEVNULL)


@cache
def functions_of(module: str) -> tuple[list[str], dict[str, ast.FunctionDef]]:
    """Give the lines of a module of the copy and its functions by name."""
    source = (RULES / f"{module}.py").read_text(encoding="utf-8")
    functions = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.FunctionDef))
    return source.splitlines(), {node.name: node for node in functions}


def versions(mutant: str) -> tuple[ast.FunctionDef, list[str], list[str]]:
    """Give the function that a change belongs to, its lines and the lines with the change."""
    _, _, module, name = mutant.split(".")
    lines, functions = functions_of(module)
    pair = functions[name.rpartition("_")[0] + "_orig"], functions[name]
    before, after = (
        [line.replace(node.name, "", 1) for line in lines[node.lineno - 1 : node.end_lineno]] for node in pair
    )
    return pair[0], before, after


def difference(mutant: str) -> str:
    """Give the lines that a change takes out and puts in."""
    _, before, after = versions(mutant)
    return "\n".join(line for line in ndiff(before, after) if line[0] in "-+")


def own_lines(node: ast.stmt) -> range:
    """Give the lines of a statement, of one that holds others only its head."""
    body = getattr(node, "body", None)
    return range(node.lineno, max(body[0].lineno, node.lineno + 1) if body else (node.end_lineno or node.lineno) + 1)


def reach(mutant: str) -> tuple[str, int, int]:
    """Give module, first and last line of the statements that a change is in: a test must come by there to notice it.

    That is the first line of a function inside the function, for a change in it: that makes it anew. It is the whole
    function where a default of its own is changed, or what leaves no trace of its own when it is worked.
    """
    function, before, after = versions(mutant)
    starts, ends = zip(before, after, strict=False), zip(reversed(before), reversed(after), strict=False)
    same = next((at for at, (one, other) in enumerate(starts) if one != other), len(before) - 1)
    alike = next((at for at, (one, other) in enumerate(ends) if one != other), len(before))
    changed = set(range(function.lineno + same, function.lineno + max(len(before) - alike, same + 1)))
    parts = [node for node in ast.walk(function) if isinstance(node, ast.stmt)]
    inner = [node for node in parts if isinstance(node, ast.FunctionDef) and node is not function]
    held = [node for node in inner if changed & set(range(node.lineno, (node.end_lineno or node.lineno) + 1))]
    held = held or [node for node in parts if changed & set(own_lines(node))]
    if not held or function in held or any(isinstance(node, ast.Break | ast.Continue | ast.Pass) for node in held):
        return mutant.split(".")[2], function.lineno, function.end_lineno or function.lineno
    ranges = [own_lines(node) for node in held]
    return mutant.split(".")[2], min(lines[0] for lines in ranges), max(lines[-1] for lines in ranges)


def main(modules: list[str]) -> int:
    """Try the changes and print the figures with every survivor; give 1 when fewer than 90 % are noticed."""
    digit = os.environ.get("MUTATION_DIGIT", "")
    mutants = [name for name in prepare(modules) if name.endswith(digit)]
    plan = {
        "mutants": {name: reach(name) for name in mutants},
        "children": int(os.environ.get("MUTATION_CHILDREN", os.cpu_count() or 1)),
    }
    (TREE / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
    run_tests()
    run_tests()  # afresh: what may have done its work while modules were imported
    found = json.loads((TREE / "found.json").read_text(encoding="utf-8"))
    survivors = [name for name in mutants if found[name] != "noticed"]
    total, open_ = (Counter(name.split(".")[2] for name in some) for some in (mutants, survivors))
    sys.stdout.write("".join(f"{name}\n{difference(name)}\n" for name in survivors))
    for module, count in sorted(total.items()):
        share = 100 * (1 - open_[module] / count)
        sys.stdout.write(f"{module}: {count}, noticed {count - open_[module]} ({share:.1f} %)\n")
    share = 100 * (1 - len(survivors) / len(mutants))
    sys.stdout.write(f"changes of the rules: {len(mutants)}, noticed {len(mutants) - len(survivors)} ({share:.1f} %)\n")
    return 0 if share >= 90 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
