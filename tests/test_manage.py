"""The start of every command: which interpreter runs it, and what is said when that cannot be."""

import importlib.util
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture
def manage(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Load manage.py as a module whose root is an empty folder with requirement files."""
    spec = importlib.util.spec_from_file_location("manage", ROOT / "manage.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    (tmp_path / "requirements.txt").write_text("")
    (tmp_path / "tests").mkdir()
    (tmp_path / "tests" / "requirements.txt").write_text("# the same and more\n")
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(module, "REQUIREMENTS", {"test": tmp_path / "tests" / "requirements.txt"})
    return module


def test_it_makes_the_environment_once(manage: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    """The first command makes `.venv` and says so; the next finds it as it should be and says nothing."""
    manage.ensure_venv("demo")
    said = capsys.readouterr().err
    manage.ensure_venv("demo")

    assert "Making the virtual environment" in said
    assert "Installing the pinned packages of requirements.txt" in said
    assert capsys.readouterr().err == ""
    assert manage.usable_venv()


def test_it_installs_again_when_the_requirements_change(manage: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    """A changed requirements file is installed; the environment stays."""
    manage.ensure_venv("demo")
    (manage.ROOT / "requirements.txt").write_text("# changed\n")
    capsys.readouterr()
    manage.ensure_venv("demo")
    said = capsys.readouterr().err

    assert "Installing" in said
    assert "Making" not in said


def test_it_knows_that_the_test_requirements_hold_the_others(
    manage: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    """After `test` has made the environment, `demo` installs nothing more."""
    manage.ensure_venv("test")
    capsys.readouterr()
    manage.ensure_venv("demo")

    assert capsys.readouterr().err == ""


def test_it_stops_with_the_remedy_where_python_cannot_install(
    manage: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without ensurepip and without pip nothing can be installed; the message names the missing package."""
    found = importlib.util.find_spec

    def without(name: str, package: str | None = None) -> object:
        return None if name in ("ensurepip", "pip") else found(name, package)

    monkeypatch.setattr(manage.importlib.util, "find_spec", without)

    with pytest.raises(SystemExit, match="python3-venv"):
        manage.ensure_venv("demo")
    assert not manage.VENV.exists()


def test_it_fills_the_environment_by_its_own_pip_where_ensurepip_is_missing(
    manage: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where only ensurepip is missing, this interpreter's pip installs into the new environment."""
    found = importlib.util.find_spec
    monkeypatch.setattr(
        manage.importlib.util,
        "find_spec",
        lambda name, package=None: None if name == "ensurepip" else found(name, package),
    )
    manage.ensure_venv("demo")

    assert manage.usable_venv()
    assert manage.pip_command()[:2] == [sys.executable, "-m"]


def test_it_refuses_an_old_python(manage: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """An interpreter below the least version is named with what is needed."""
    monkeypatch.setattr(manage, "LEAST_PYTHON", (99, 0))

    with pytest.raises(SystemExit, match=r"needs Python 3\.11 or newer"):
        manage.main()


def test_it_passes_a_commands_exit_code_on() -> None:
    """Scripts rely on the exit code: bad input of `rule` ends with 2."""
    done = subprocess.run(
        [sys.executable, "manage.py", "rule", "no_such_rule"], cwd=ROOT, capture_output=True, check=False
    )

    assert done.returncode == 2
