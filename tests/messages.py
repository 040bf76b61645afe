"""Compare the translations: each committed .mo with its .po, and each .po with the words in code and templates."""

import gettext
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
QUOTED = re.compile(r'"((?:[^"\\]|\\.)*)"')
ENTRY = re.compile(r'^(?:msgctxt|msgid|msgid_plural) .*(?:\n".*")*', re.MULTILINE)


def entries(po: Path) -> set[str]:
    """Give the source texts of a catalog, obsolete ones left out, however their lines are broken."""
    found = ENTRY.findall(po.read_text())
    return {entry.split(" ", 1)[0] + " " + "".join(QUOTED.findall(entry)) for entry in found}


def catalog(mo: Path) -> dict[object, str]:
    """Give the texts of a compiled catalog, whatever version of the compiler wrote it."""
    with mo.open("rb") as file:
        texts = dict(gettext.GNUTranslations(file)._catalog)  # type: ignore[attr-defined]
    texts.pop("", None)
    return texts


def problems_of(app: Path) -> list[str]:
    """List what is wrong with an app's catalog."""
    po = app / "locale" / "es_US" / "LC_MESSAGES" / "django.po"
    if not po.exists():
        return [f"{app.name}: has no {po.relative_to(ROOT)}; make it with django-admin makemessages -l es_US"]
    found = []
    with tempfile.TemporaryDirectory() as folder:
        compiled = Path(folder) / "django.mo"
        subprocess.run(["msgfmt", "--check-format", "-o", str(compiled), str(po)], check=True)
        if catalog(compiled) != catalog(po.with_suffix(".mo")):
            found.append(
                f"{app.name}: django.mo is not made from django.po; run django-admin compilemessages in {app.name}"
            )
        copy = Path(folder) / app.name
        shutil.copytree(app, copy)
        subprocess.run(
            [sys.executable, "-m", "django", "makemessages", "-l", "es_US", "--no-obsolete"],
            cwd=copy,
            check=True,
            capture_output=True,
        )
        made = entries(copy / po.relative_to(app))
        had = entries(po)
        found += [f"{app.name}: not in django.po: {text}" for text in sorted(made - had)]
        found += [f"{app.name}: no longer in the source: {text}" for text in sorted(had - made)]
    text = po.read_text()
    if "#, fuzzy" in text:
        found.append(f"{app.name}: django.po has fuzzy entries; a person must settle them")
    return found


def main() -> int:
    """Print every problem; give 1 when there is one."""
    apps = sorted(path.parent for path in (ROOT / "trainer").glob("*/apps.py"))
    problems = [problem for app in apps for problem in problems_of(app)]
    print("\n".join(problems) or f"messages of {len(apps)} apps agree")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
