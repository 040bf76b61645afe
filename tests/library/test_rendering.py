"""Lessons on a page: values, drawings and words, and every attack that a lesson's text can try."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.core.cache import caches

from tests.library.folder import LESSON, NEW, OLD, SPECIFICATION
from trainer.base import ids
from trainer.library import queries, rendering, services
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.library.rendering import clean, make_lesson
from trainer.rules.specification import ContentError, Specification, parse_specification

FOLDER = Path(__file__).parents[2] / "lessons" / "specifications" / SPECIFICATION
GLOSSARY = {
    "base-sheet": {"en": "base sheet", "es": "hoja base", "note": {"en": "The first ply.", "es": "La primera."}}
}
DRAWING = "::: drawing side_lap part=base show=exposure\n:::\n"


@pytest.fixture(scope="module")
def specification() -> Specification:
    """Give the newer revision."""
    return parse_specification((FOLDER / f"{NEW}.toml").read_text(), f"{SPECIFICATION}/{NEW}.toml")


class Tags(HTMLParser):
    """Gather what a browser would see: tags, attributes, and the text between."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.text = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep the tag and its attributes."""
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_data(self, data: str) -> None:
        """Keep the text."""
        self.text += data


def body(markdown: str, specification: Specification, language: str = "en") -> str:
    """Give the page of a lesson with this text under its title."""
    return str(make_lesson(f"# Title\n\n{markdown}\n", "m/lesson.en.md", specification, language, GLOSSARY).html)


@pytest.mark.parametrize(
    ("language", "value"), [pytest.param("en", "4 in", id="English"), pytest.param("es", "4 pulg", id="Spanish")]
)
def test_it_fills_values_in_the_readers_language(language: str, value: str, specification: Specification) -> None:
    """A lesson holds names; the numbers come from the specification, written as the reader's tape."""
    assert f"<p>Lap {value}.</p>" in body("Lap {{ base.side_lap }}.", specification, language)


def test_it_puts_drawings_in_after_cleaning(specification: Specification) -> None:
    """A drawing arrives whole, with its title and description, in a figure of its own."""
    html = body(DRAWING, specification)

    assert html.count('<figure class="drawing"><svg') == 1
    assert "<title" in html
    assert "<desc" in html


def test_it_keeps_the_ids_of_two_drawings_apart(specification: Specification) -> None:
    """Hatches of one drawing are not taken for those of another."""
    found = re.findall(r'\bid="([^"]+)"', body(DRAWING + "\n" + DRAWING, specification))

    assert found
    assert len(found) == len(set(found))


def test_it_boxes_cautions_in_the_readers_language(specification: Specification) -> None:
    """A caution is a box with its word over it."""
    html = body("!!! caution\n    Stay back.\n", specification, "es")

    assert '<div class="caution">' in html
    assert '<p class="box-title">Precaución</p>' in html
    assert "<p>Stay back.</p>" in html


def test_it_leads_to_headings_words_modules_and_https(specification: Specification) -> None:
    """The four kinds of links lead where they say."""
    text = "## A lap\n\n[a](#a-lap) [b](glossary:base-sheet) [c](../edge-metal/#nails) [d](https://example.org/x)"
    lesson = make_lesson(f"# T\n\n{text}\n", "m/lesson.es.md", specification, "es", GLOSSARY)
    hrefs = [value for name, value in Tags(lesson.html).attributes if name == "href"]

    assert hrefs == ["#h-a-lap", "#word-base-sheet", "../edge-metal/#h-nails", "https://example.org/x"]
    assert 'id="h-a-lap"' in lesson.html
    assert [(word.word, word.other, word.note) for word in lesson.words] == [("hoja base", "base sheet", "La primera.")]


ATTACKS = {
    "script": "<script>alert(1)</script>",
    "script in a word": "Lap <b onclick=alert(1)>here</b>",
    "style block": "<style>body{display:none}</style>",
    "style attribute": '<p style="position:fixed">x</p>',
    "frame": '<iframe src="https://evil.example"></iframe>',
    "object": '<object data="https://evil.example"></object>',
    "outside image": "![x](https://evil.example/track.png)",
    "outside image by reference": "![x][r]\n\n[r]: https://a.example/track.png",
    "image tag": '<img src="https://evil.example/track.png" onerror="alert(1)">',
    "script link": "[x](javascript:alert(1))",
    "script link in disguise": "[x](JaVaScRiPt&#58;alert(1))",
    "script link by reference": "[x][r]\n\n[r]: javascript:alert(1)",
    "automatic script link": "<javascript:alert(1)>",
    "data link": "[x](data:text/html;base64,PHNjcmlwdD4=)",
    "link to our own pages": "[x](/account/logout/)",
    "protocol-relative link": "[x](//evil.example)",
    "SVG with references": '<svg><use href="https://evil.example/x.svg#a"/><image href="https://evil.example/a.png"/></svg>',
    "SVG with script": "<svg onload=alert(1)><script>alert(1)</script></svg>",
    "form": '<form action="https://evil.example"><input name="password"></form>',
    "meta refresh": '<meta http-equiv="refresh" content="0;url=https://evil.example">',
    "base": '<base href="https://evil.example/">',
    "broken tag": '<img src=x onerror=alert(1) x="',
    "comment": "<!-- --><script>alert(1)</script><!-- -->",
    "attribute break-out in a title": '[x](https://a.example "\\" onmouseover=alert(1) \\"")',
    "heading with a tag": "## <script>alert(1)</script>",
    "code block": "    <script>alert(1)</script>",
    "fenced raw HTML in a list": "- a\n\n    <script>alert(1)</script>",
    "markdown attributes": "## Head {: #content onclick=alert(1) }",
    "marker of another day": "place" + "0" * 64 + "x0x",
    "stashed placeholder": "\x02wzxhzdk:0\x03 \x02amp\x03",
}
SAFE_TAGS = rendering.TAGS | {"figure"}


@pytest.mark.parametrize("text", [pytest.param(text, id=name) for name, text in ATTACKS.items()])
def test_it_makes_attacks_harmless(text: str, specification: Specification) -> None:
    """Whatever a lesson holds, the page gets only plain tags, no handlers, no styles, and links that we know."""
    seen = Tags(body(f"before\n\n{text}\n\nafter", specification))

    assert set(seen.tags) <= SAFE_TAGS
    for name, value in seen.attributes:
        assert name in {"href", "id", "class", "start", "rel"}, (name, value)
        assert name != "href" or re.match(r"https://a\.example|#h-|#word-|\.\./[a-z]", value), value
        assert name != "id" or value.startswith("h-"), value
    assert "before" in seen.text
    assert "after" in seen.text


@pytest.mark.parametrize("text", [pytest.param(text, id=name) for name, text in ATTACKS.items()])
def test_the_second_wall_holds_alone(text: str) -> None:
    """Even if Markdown let raw HTML through, the allow-list would keep the page clean."""
    seen = Tags(clean(text))

    assert set(seen.tags) <= rendering.TAGS
    assert {name for name, _value in seen.attributes} <= {"href", "id", "class", "start", "scope", "rel"}
    assert not [value for name, value in seen.attributes if name == "href" and "script" in value.lower()]


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("{% include 'base/page.html' %}", id="a tag"),
        pytest.param("{# comment #} {% load static %}", id="comment and load"),
    ],
)
def test_it_shows_template_code_as_text(text: str, specification: Specification) -> None:
    """Template code is text: lessons know names in braces and nothing else."""
    assert text in Tags(body(text, specification)).text


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("{{ settings.SECRET_KEY }}", id="settings"),
        pytest.param("{{ base.side_lap|safe }}", id="filter"),
        pytest.param("{{ base.side_lap.__class__ }}", id="attribute"),
        pytest.param("{{ request }}", id="context"),
        pytest.param("{{ base.side_lap", id="left open"),
    ],
)
def test_it_refuses_braces_that_hold_no_value(text: str, specification: Specification) -> None:
    """Anything else than a value's name is refused with its line."""
    with pytest.raises(ContentError) as refused:
        body(f"one\n\n{text}\n", specification)

    assert refused.value.problems[0].line == 5


def test_it_never_puts_a_drawing_at_a_forged_marker(
    specification: Specification, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An author who guessed the next marker would still get none: letters that stand in the text are not used."""
    guessed, fresh = "a" * 64, "b" * 64
    answers = iter([guessed, fresh])
    monkeypatch.setattr(ids, "new_token", lambda: next(answers))

    html = body(f"place{guessed}x0x\n\n{DRAWING}", specification)

    assert html.count("<svg") == 1
    assert html.index(guessed) < html.index("<svg")


@pytest.mark.parametrize(
    ("block", "says"),
    [
        pytest.param("::: drawing no_such_drawing\n:::", "there is no such drawing", id="unknown drawing"),
        pytest.param("::: drawing side_lap part=base height=3\n:::", "no such input", id="unknown input"),
        pytest.param("::: drawing side_lap part=base side_lap=base.nothing\n:::", "no single value", id="unknown name"),
        pytest.param('::: drawing side_lap part="base\n:::', "quotation mark", id="open quotation mark"),
        pytest.param("::: drawing side_lap part=base\ntext\n:::", "no text of its own", id="text inside"),
        pytest.param("::: drawing side_lap part=base\n", "not closed", id="not closed"),
        pytest.param("::: video x\n:::", "no drawing block", id="another block"),
        pytest.param("::: photo Big_Name\n:::", "small letters", id="a photo's name"),
        pytest.param("::: drawing side_lap part=base show=a show=b\n:::", "one value", id="an input twice"),
    ],
)
def test_it_refuses_broken_drawing_blocks_with_their_line(block: str, says: str, specification: Specification) -> None:
    """A block that gives no drawing is told with its line and how to write it."""
    with pytest.raises(ContentError) as refused:
        body(f"one\n\n{block}\n", specification)

    problem = refused.value.problems[0]
    assert (problem.file, problem.line) == ("m/lesson.en.md", 5)
    assert says in problem.message


def test_it_refuses_a_word_that_the_glossary_lacks(specification: Specification) -> None:
    """A link to a missing word is content that must be mended, not a dead link."""
    with pytest.raises(ContentError, match=r"content\.E406"):
        body("[x](glossary:no-such-word)", specification)


def test_it_refuses_a_lesson_without_a_title(specification: Specification) -> None:
    """The first line is the title."""
    with pytest.raises(ContentError, match=r"content\.E401"):
        make_lesson("No title.\n", "m/lesson.en.md", specification, "en")


def test_it_keeps_pages_apart_by_text_revision_and_language(
    version: ModuleVersion, revision: SpecificationRevision, folder: Path
) -> None:
    """The cache gives each reader the own language and revision, and a changed lesson at once."""
    old = queries.revision(SPECIFICATION, OLD)
    assert old is not None
    pages = [rendering.render_lesson(version, row, lang).html for row in (old, revision) for lang in ("en", "es")]

    assert len(set(pages)) == 4
    assert "at least 3 in" in pages[0]
    assert "al menos 4 pulg" in pages[3]
    (folder / "small-laps" / "lesson.en.md").write_text(LESSON["en"] + "\nMore.\n")
    changed = services.load_lessons(folder=folder).modules[0]
    assert "More." in rendering.render_lesson(changed, revision, "en").html
    assert rendering.render_lesson(version, revision, "en").html == pages[2]


def test_it_takes_a_page_from_the_cache_the_second_time(
    version: ModuleVersion, revision: SpecificationRevision, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same text under the same revision is not worked out again."""
    caches["pages"].clear()
    first = rendering.render_lesson(version, revision, "en")
    monkeypatch.setattr(rendering, "make_lesson", lambda *_args: pytest.fail("worked out again"))

    assert rendering.render_lesson(version, revision, "en") == first
