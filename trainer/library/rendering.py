"""A lesson as it is shown: Markdown, values filled in, cleaned to an allow-list, and only then our drawings put in.

Lessons are written by many hands, and later by companies, so their text is never trusted: raw HTML is shown as text,
what Markdown makes is cleaned again, links lead to https addresses, other modules, the lesson's own headings or its
words, and a drawing can only stand where a marker stands that the author could not know.
"""

import re
import secrets
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final
from xml.etree.ElementTree import Element

import nh3
from django.core.cache import caches
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe
from markdown import Markdown
from markdown.extensions import Extension
from markdown.extensions.toc import slugify_unicode
from markdown.treeprocessors import Treeprocessor

from trainer.library import queries
from trainer.library.lesson_source import DrawingBlock, PhotoBlock, draw_block, fill_values, read_lesson
from trainer.library.models import ModuleVersion, Photo, SpecificationRevision
from trainer.library.photographs import queries as photographs
from trainer.people.models import Company
from trainer.rules.specification import ContentError, Problem, Specification

EDITION: Final = "2"  # raise it when the same content gives another page
HEADING: Final = "h-"  # before each heading's id, so that a lesson cannot take an id of the page
WORD: Final = "word-"
TAGS: Final = {
    "a", "blockquote", "br", "code", "div", "em", "h2", "h3", "h4", "hr", "li", "ol", "p", "pre", "strong",
    "table", "tbody", "td", "th", "thead", "tr", "ul",
}  # fmt: skip
ATTRIBUTES: Final = {"a": {"href"}, "h2": {"id"}, "h3": {"id"}, "h4": {"id"}, "ol": {"start"}, "th": {"scope"}}
CLASSES: Final = {"div": {"caution", "note"}, "p": {"box-title"}}
CAUTION_WORDS: Final = {"en": {"caution": "Caution", "note": "Note"}, "es": {"caution": "Precaución", "note": "Nota"}}
ANCHOR_WORDS: Final = {
    "en": {"acceptable": "Acceptable", "not-acceptable": "Not acceptable"},
    "es": {"acceptable": "Aceptable", "not-acceptable": "No aceptable"},
}
_BOX: Final = re.compile(r"^!!! (caution|note)[ \t]*$", re.MULTILINE)
_OTHER_MODULE: Final = re.compile(r"\.\./([a-z0-9-]+)/(#[^\s\"<>]*)?")
_KEPT_LINK: Final = re.compile(r"https://[^\s\"<>]+")


@dataclass(frozen=True)
class Word:
    """A trade word that the lesson leads to: in the reader's language, in the other, and what it is."""

    key: str
    word: str
    other: str
    note: str


@dataclass(frozen=True)
class Lesson:
    """A lesson ready for a page; `photos` are its places for pictures, by the text that stands there in `html`."""

    title: str
    html: SafeString
    words: tuple[Word, ...]
    photos: Mapping[str, str] = field(default_factory=dict)


def render_lesson(
    version: ModuleVersion, revision: SpecificationRevision, language: str, company: Company | None = None
) -> Lesson:
    """Give a module's lesson in `en` or `es` with the values of a revision, and with a company's own pictures.

    All but the pictures is kept in the cache by what it is made of.

    Raises:
        ContentError: The lesson does not go with the revision.
    """
    glossary, glossary_text = queries.glossary_text()
    text = queries.lesson_digest(version, language)
    key = f"lesson:{EDITION}:{text}:{revision.content.sha256}:{glossary}:{language}"
    cache = caches["pages"]
    found = cache.get(key)
    if isinstance(found, Lesson):
        return with_photos(found, company, language)
    made = make_lesson(
        queries.lesson_text(version, language),
        f"{version.slug}/lesson.{language}.md",
        queries.specification_of(revision),
        language,
        tomllib.loads(glossary_text),
    )
    cache.set(key, made, timeout=None)
    return with_photos(made, company, language)


def with_photos(lesson: Lesson, company: Company | None, language: str) -> Lesson:
    """Put a company's pictures where the lesson has places for them; a place without a picture leaves nothing."""
    if not lesson.photos:
        return lesson
    held = {} if company is None else photographs.photos_at(company, set(lesson.photos.values()))
    html = str(lesson.html)
    for marker, place in lesson.photos.items():
        shown = [photo_figure(photo, language) for photo in held.get(place, [])]
        html = html.replace(marker, f'<div class="photos">{"".join(shown)}</div>' if shown else "", 1)
    return replace(lesson, html=mark_safe(html), photos={})  # noqa: S308  made of cleaned text and escaped figures


def photo_figure(photo: Photo, language: str) -> SafeString:
    """Give a picture with what it is an example of and its text alternative."""
    return _figure(photographs.kept(photo), language)


def kept_figures(photos: Iterable[Mapping[str, Any]], language: str) -> list[SafeString]:
    """Give the pictures that a question shows, of what `photos_for` kept of them."""
    return [_figure(kept, language) for kept in photos]


def _figure(kept: Mapping[str, Any], language: str) -> SafeString:
    words = ANCHOR_WORDS[language].get(kept["anchor"], "")
    alt = kept["alt"][language]
    return format_html(
        '<figure class="photo {}"><img src="{}" width="{}" height="{}" alt="{}" loading="lazy">'
        "<figcaption>{}{}</figcaption></figure>",
        kept["anchor"],
        reverse("photo-picture", kwargs={"company": kept["company"], "ref": kept["ref"]}),
        kept["width"],
        kept["height"],
        alt,
        format_html("<strong>{}.</strong> ", words) if words else "",
        alt,
    )


def make_lesson(
    source: str, path: str, specification: Specification, language: str, glossary: Mapping[str, Any] | None = None
) -> Lesson:
    """Make a lesson of its Markdown, whatever the Markdown holds.

    Raises:
        ContentError: It cannot be read, names a value that the specification lacks, or asks for an impossible drawing.
    """
    token = _unguessable(source)
    lesson = read_lesson(source, path, lambda number: f"{token}x{number}x")
    links = _Links(path, glossary or {})
    html = clean(_markdown(links).convert(_titled_boxes(fill_values(lesson, specification, language), language)))
    links.stop_on_problems()
    marked = {f"<p>{token}x{number}x</p>": block for number, block in enumerate(lesson.blocks)}
    if html.count(token) != len(marked) or not all(marker in html for marker in marked):
        raise ContentError(
            [links.problem("E405", "a ::: block stands inside other text; give its block lines of its own")]
        )
    for number, (marker, block) in enumerate(marked.items()):
        if isinstance(block, DrawingBlock):
            drawing = draw_block(block, path, specification, language, f"d{number}")
            html = html.replace(marker, f'<figure class="drawing">{drawing.svg}</figure>', 1)
    photos = {marker: block.place for marker, block in marked.items() if isinstance(block, PhotoBlock)}
    return Lesson(lesson.title, mark_safe(html), links.words(language), photos)  # noqa: S308  cleaned above


def _unguessable(source: str) -> str:
    """Give letters that stand nowhere in the source and that its author could not have foreseen."""
    token = f"place{secrets.token_hex(32)}"  # never seeded: the demo's repeatable ids could be foreseen
    while token in source:
        token = f"place{secrets.token_hex(32)}"
    return token


def clean(html: str) -> str:
    """Keep only what a lesson may hold; the text of everything else stays, but for scripts and styles."""
    return nh3.clean(
        html,
        tags=TAGS,
        attributes=ATTRIBUTES,
        allowed_classes=CLASSES,
        url_schemes={"https"},
        link_rel="noopener noreferrer",
    )


def _titled_boxes(text: str, language: str) -> str:
    words = CAUTION_WORDS[language]
    return _BOX.sub(lambda match: f'!!! {match[1]} "{words[match[1]]}"', text)


def _markdown(links: "_Links") -> Markdown:
    def slug(value: str, separator: str) -> str:
        return HEADING + slugify_unicode(value, separator)

    made = Markdown(
        extensions=["admonition", "sane_lists", "tables", "toc", links],
        extension_configs={"toc": {"slugify": slug}},
        output_format="html",
    )
    made.preprocessors.deregister("html_block")  # raw HTML is text
    made.inlinePatterns.deregister("html")
    made.inlinePatterns.deregister("image_link")
    made.inlinePatterns.deregister("image_reference")
    return made


class _Links(Extension):
    """Let only known kinds of links through, and gather the trade words that the lesson leads to."""

    def __init__(self, path: str, glossary: Mapping[str, Any]) -> None:
        super().__init__()
        self.path, self.glossary = path, glossary
        self.used: list[str] = []
        self.problems: list[Problem] = []

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802  the library's name
        """Look at the links when everything else is done."""
        md.treeprocessors.register(_LinkWalk(md, self), "lesson-links", -10)

    def target(self, href: str) -> str | None:
        """Give where a link leads on our pages; None when it leads nowhere we know."""
        if href.startswith("#"):
            return f"#{HEADING}{href[1:]}"
        if href.startswith("glossary:"):
            return self._word(href.removeprefix("glossary:"))
        other = _OTHER_MODULE.fullmatch(href)
        if other is not None:  # every page that shows a lesson lies beside those of the other lessons
            return f"../{other[1]}/" + (f"#{HEADING}{other[2][1:]}" if other[2] else "")
        return href if _KEPT_LINK.fullmatch(href) else None

    def _word(self, key: str) -> str | None:
        if key not in self.glossary:
            self.problems.append(self.problem("E406", f'glossary.toml has no word "{key}"; add it, or mend the link'))
            return None
        if key not in self.used:
            self.used.append(key)
        return f"#{WORD}{key}"

    def words(self, language: str) -> tuple[Word, ...]:
        """Give the words that were led to, in the order of the text."""
        other = "es" if language == "en" else "en"
        return tuple(
            Word(key, entry[language], entry[other], entry.get("note", {}).get(language, ""))
            for key in self.used
            for entry in [self.glossary[key]]
        )

    def problem(self, code: str, message: str) -> Problem:
        """Make a problem of this lesson; Markdown keeps no lines, so it names the first."""
        return Problem(self.path, 1, f"content.{code}", message)

    def stop_on_problems(self) -> None:
        """Raise what was found wrong with the links."""
        if self.problems:
            raise ContentError(self.problems)


class _LinkWalk(Treeprocessor):
    """Walk over the finished tree: links, and the class names of boxes."""

    def __init__(self, md: Markdown, links: _Links) -> None:
        super().__init__(md)
        self.links = links

    def run(self, root: Element) -> None:
        """Set each link to its target, or take the target away."""
        for element in root.iter():
            if element.tag == "a":
                target = self.links.target(element.attrib.pop("href", ""))
                element.attrib.clear()
                if target is not None:
                    element.set("href", target)
            elif element.tag == "p" and element.get("class") == "admonition-title":
                element.set("class", "box-title")
