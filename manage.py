#!/usr/bin/env python3
"""Run a command of the trainer; make the virtual environment first where there is none.

`demo` and `test` always run in `.venv` beside this file, which is made with the standard library and pip, from the
pinned and hashed requirements. Other commands run where Django can be imported, else in `.venv` too.
"""

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
LEAST_PYTHON = (3, 11)
REQUIREMENTS = {"test": ROOT / "tests" / "requirements.txt"}
NOT_WITHOUT_BEING_ASKED = ("browser", "load", "faults")


def say(text):
    """Print to standard error, so that a command's own output stays clean."""
    print(text, file=sys.stderr, flush=True)


def venv_python():
    """Give the path of the environment's interpreter on this platform."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def in_venv():
    """Tell whether this interpreter is the one of `.venv`."""
    return Path(sys.prefix).resolve() == VENV.resolve()


def installed_digests():
    """Read which requirement files `.venv` was filled from, by the SHA-256 of each."""
    stamp = VENV / "requirements.sha256"
    return set(stamp.read_text().split()) if stamp.exists() else set()


def make_venv():
    """Make `.venv` with the standard library; without `ensurepip` let this interpreter's pip fill it."""
    if VENV.exists():
        shutil.rmtree(VENV)
    say("Making the virtual environment .venv …")
    without_pip = importlib.util.find_spec("ensurepip") is None
    subprocess.run([sys.executable, "-m", "venv", *(["--without-pip"] if without_pip else []), str(VENV)], check=True)
    if without_pip and importlib.util.find_spec("pip") is None:
        shutil.rmtree(VENV)
        sys.exit(
            "This Python has neither ensurepip nor pip, so packages cannot be installed.\n"
            "Install your system's package for virtual environments (python3-venv on Debian), then run this again."
        )


def pip_command():
    """Use the environment's own pip, or this interpreter's pip where the environment has none."""
    has_pip = subprocess.run([str(venv_python()), "-c", "import pip"], capture_output=True, check=False).returncode == 0
    if has_pip:
        return [str(venv_python()), "-m", "pip"]
    return [sys.executable, "-m", "pip", "--python", str(venv_python())]


def usable_venv():
    """Tell whether `.venv` holds an interpreter that runs and is new enough."""
    probe = "import sys; sys.exit(sys.version_info < %r)" % (LEAST_PYTHON,)
    try:
        return subprocess.run([str(venv_python()), "-c", probe], check=False).returncode == 0
    except OSError:
        return False


def ensure_venv(command):
    """Make `.venv` hold what the command needs; do nothing when it already does."""
    wanted = REQUIREMENTS.get(command, ROOT / "requirements.txt")
    digest = hashlib.sha256(wanted.read_bytes()).hexdigest()
    if not usable_venv():
        make_venv()
    elif digest in installed_digests():
        return
    say("Installing the pinned packages of %s (a minute or two) …" % wanted.relative_to(ROOT).as_posix())
    install = [
        *pip_command(),
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--require-hashes",
        "-r",
        str(wanted),
    ]
    if subprocess.run(install, check=False).returncode != 0:
        sys.exit("The packages could not be installed: see pip's message above, mend it, and run this again.")
    digests = installed_digests() | {digest}
    if command == "test":  # the test requirements hold the runtime ones too
        digests.add(hashlib.sha256((ROOT / "requirements.txt").read_bytes()).hexdigest())
    (VENV / "requirements.sha256").write_text("\n".join(sorted(digests)) + "\n")
    say("Packages are in place.")


def run_tests(arguments):
    """Run the test suite with pytest: all but browser, load and fault tests, unless paths are named."""
    os.environ.setdefault("TRAINER_MODE", "test")
    import pytest

    named = [word for word in arguments if not word.startswith("-")]
    if not named:
        skipped = ["--ignore=tests/%s" % folder for folder in NOT_WITHOUT_BEING_ASKED]
        arguments = [*arguments, "-n", "auto", *skipped]
    return pytest.main(arguments)


def main():
    """Choose the interpreter, then hand over to pytest or Django."""
    if sys.version_info < LEAST_PYTHON:
        sys.exit("The trainer needs Python 3.11 or newer; this is %s." % sys.version.split()[0])
    command = sys.argv[1] if len(sys.argv) > 1 else ""
    has_django = importlib.util.find_spec("django") is not None
    if not in_venv() and (command in ("demo", "test") or not has_django):
        ensure_venv(command)
        sys.exit(subprocess.run([str(venv_python()), *sys.argv], check=False).returncode)
    if in_venv():
        ensure_venv(command)
    os.chdir(ROOT)
    if command == "test":
        sys.exit(run_tests(sys.argv[2:]))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "trainer.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
