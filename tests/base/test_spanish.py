"""Every visible string has its Spanish."""

import ast
import gettext
import re
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.utils.translation.template import templatize

ROOT = Path(__file__).resolve().parents[2]
APPS = sorted(path.parent for path in (ROOT / "trainer").glob("*/apps.py"))
WORD = re.compile(r"[^\W\d_]{2,}")
SHOWN_ATTRIBUTES = {"alt", "title", "aria-label", "placeholder", "data-done", "label", "content-label"}
SAME_IN_BOTH = {"CSV", "PDF", "SHA", "UTC", "XLSX"}
CALLS = {
    "_": 1,
    "gettext": 1,
    "gettext_lazy": 1,
    "gettext_noop": 1,
    "ngettext": 2,
    "ngettext_lazy": 2,
    "pgettext": 2,
    "pgettext_lazy": 2,
    "npgettext": 3,
}
SHOWN_BY_CALL = {"Refused", "success", "error", "warning", "info", "ValidationError"}
SHOWN_BY_KEYWORD = {"label", "help_text", "empty_label", "verbose_name"}


def python_files(app: Path) -> list[Path]:
    """Give an app's modules, migrations left out."""
    return sorted(path for path in app.rglob("*.py") if "migrations" not in path.parts)


def template_files(app: Path) -> list[Path]:
    """Give an app's templates, of pages and of messages."""
    return sorted(path for path in (app / "templates").rglob("*") if path.suffix in (".html", ".txt"))


def messages_of(source: str) -> set[str]:
    """Give the texts that calls of gettext and its kin hold in Python code, singular ones for plurals."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS:
            place = 1 if node.func.id in ("pgettext", "pgettext_lazy", "npgettext") else 0
            text = node.args[place]
            if isinstance(text, ast.Constant) and isinstance(text.value, str):
                found.add(text.value)
    return found


def messages_of_template(source: str) -> set[str]:
    """Give the texts that a template translates; Django turns its tags into calls that Python can read."""
    calls = re.findall(
        r"(?:\b_|n?p?gettext)\((?:u?(?:'(?:[^'\\]|\\.)*'|\"(?:[^\"\\]|\\.)*\")|[\s,\w])+\)", templatize(source)
    )
    return set().union(*(messages_of(call.replace(" _(", "_(")) for call in calls)) if calls else set()


@cache
def spanish_of(app: Path) -> dict[object, str]:
    """Give an app's own compiled Spanish."""
    path = app / "locale" / "es_US" / "LC_MESSAGES" / "django.mo"
    if not path.exists():
        return {}
    with path.open("rb") as file:
        return dict(gettext.GNUTranslations(file)._catalog)  # type: ignore[attr-defined]


def has_spanish(app: Path, text: str) -> bool:
    """Tell whether the app says the text in Spanish."""
    catalog = spanish_of(app)
    return bool(catalog.get(text) or catalog.get((text, 0)))


class Unwrapped(HTMLParser):
    """Collect the words of a page that no translation tag wraps; what is marked with its own `lang` may stay."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Look at the attributes that are read out or shown."""
        own = {name: value or "" for name, value in attrs}
        typed = own.get("class") == "tape"  # what one types, the same in both languages
        self.open.append((tag, typed or tag in ("script", "style", "code") or bool(own.get("lang"))))
        for name in SHOWN_ATTRIBUTES & set(own):
            self.note(own[name])
        if tag in ("area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"):
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        """Leave the element."""
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        """Look at a text."""
        self.note(data)

    def note(self, text: str) -> None:
        """Keep a text that holds a word."""
        if any(allowed for _tag, allowed in self.open):
            return
        words = [word for word in WORD.findall(text) if word not in SAME_IN_BOTH]
        if words:
            self.found.append(" ".join(text.split()))


def unwrapped(source: str) -> list[str]:
    """Give the visible texts of a template that stand outside translation tags."""
    source = re.sub(r"\{#.*?#\}", "", source, flags=re.DOTALL)
    for block in ("comment", "blocktranslate", "blocktrans"):
        source = re.sub(rf"\{{%\s*{block}\b.*?%\}}.*?\{{%\s*end{block}\s*%\}}", "", source, flags=re.DOTALL)
    source = re.sub(r"lang=\"\{\{.*?\}\}\"", "", source)  # a language that is only known later excuses nothing
    source = re.sub(r"\{%.*?%\}|\{\{.*?\}\}", " ", source, flags=re.DOTALL)
    parser = Unwrapped()
    parser.feed(source)
    return parser.found


def shown_in_english_only(source: str) -> list[str]:
    """Give the plain texts that Python code shows to people: refusals, notices, labels."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        shown = list(node.args) if name in SHOWN_BY_CALL else []
        shown += [keyword.value for keyword in node.keywords if keyword.arg in SHOWN_BY_KEYWORD]
        for value in shown:
            text = (
                value.value if isinstance(value, ast.Constant) else "words" if isinstance(value, ast.JoinedStr) else ""
            )
            if isinstance(text, str) and " " in text.strip() + (" " if isinstance(value, ast.JoinedStr) else ""):
                found.append(f"line {value.lineno}: {text}")
    return found


def named(path: Path) -> str:
    """Name a test by its file or folder."""
    return path.relative_to(ROOT / "trainer").as_posix()


@pytest.mark.parametrize("app", APPS, ids=named)
def test_it_has_spanish_for_every_message(app: Path) -> None:
    """Each text that an app's code or templates translate is in the app's own compiled Spanish."""
    texts = {text for path in python_files(app) for text in messages_of(path.read_text())}
    texts |= {text for path in template_files(app) for text in messages_of_template(path.read_text())}

    assert sorted(text for text in texts if not has_spanish(app, text)) == []


def test_it_says_the_same_in_every_app() -> None:
    """One English text has one Spanish text: of two, Django would show that of the app that stands first."""
    by_text: dict[object, set[str]] = {}
    for app in APPS:
        for text, spanish in spanish_of(app).items():
            by_text.setdefault(text, set()).add(spanish)
    by_text.pop("", None)

    assert {text: said for text, said in by_text.items() if len(said) > 1} == {}


@pytest.mark.parametrize("path", [path for app in APPS for path in template_files(app)], ids=named)
def test_it_shows_no_words_outside_translation(path: Path) -> None:
    """Every word of a template, and of an attribute that is read out, stands in a translation tag."""
    assert unwrapped(path.read_text()) == []


@pytest.mark.parametrize("path", [path for app in APPS for path in python_files(app)], ids=named)
def test_it_shows_no_plain_english_from_code(path: Path) -> None:
    """Refusals, notices and labels go through gettext."""
    if "management" in path.parts:
        pytest.skip("a command speaks to whoever runs the server")
    assert shown_in_english_only(path.read_text()) == []


def test_it_would_notice_a_text_without_spanish() -> None:
    """The tests above can fail."""
    template = '<p>{% translate "Roof" %} leaks</p><img alt="A seam"><button lang="es">Español</button>'
    plural = "{% blocktranslate count n=3 %}one nail{% plural %}{{ n }} nails{% endblocktranslate %}"

    assert unwrapped(template) == ["leaks", "A seam"]
    assert messages_of_template(template) == {"Roof"}
    assert messages_of_template(plural) == {"one nail"}
    assert shown_in_english_only('Refused("Too short for a lap.")') == ["line 1: Too short for a lap."]
    assert not has_spanish(APPS[0], "a text that nobody wrote")
