"""Everything that can be found wrong with a lessons folder before a crew sees it: `check_lessons(folder)`.

Each question is made, read in both languages and answered at least 200 times under every revision of its module's
specification; modules, lessons and the glossary are read, compared and followed.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, Final, TypeVar

from trainer.questions.across import alike_problems, caution_problems, source_problems
from trainer.questions.format import parse_question
from trainer.questions.glossary import Word, parse_glossary
from trainer.questions.lesson_check import LessonText, check_links, compare, read_lesson_text
from trainer.questions.lines import key_lines, line_of
from trainer.questions.model import LANGUAGES, Question
from trainer.questions.modules import Module, covers, parse_module
from trainer.questions.prose import lesson_problems, question_problems
from trainer.questions.trial import CASES, try_question
from trainer.rules import REGISTRY
from trainer.rules.expiry import stale
from trainer.rules.specification import ContentError, Problem, Specification, parse_specification

Render = Callable[[str, str, Specification, str, Mapping[str, Any]], object]
T = TypeVar("T")
FOR_EXAMS: Final = ("exam", "both")


@dataclass
class Report:
    """What a check went through and what it found."""

    modules: list[str] = field(default_factory=list)
    questions: int = 0
    cases: int = 0
    specifications: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)

    def as_json(self) -> dict[str, Any]:
        """Give the report in texts, numbers and lists."""
        return {
            "modules": len(self.modules),
            "questions": self.questions,
            "cases": self.cases,
            "languages": list(LANGUAGES),
            "specifications": self.specifications,
            "problems": [problem._asdict() for problem in self.problems],
            "warnings": [problem._asdict() for problem in self.warnings],
        }


class _Checker:
    """One run over a folder; `render` makes a lesson's page and raises ContentError where that fails."""

    def __init__(
        self, folder: Path, cases: int, render: Render | None, only: Collection[str], today: date | None
    ) -> None:
        self.folder, self.cases, self.render, self.only, self.today = folder, cases, render, only, today
        self.thorough = cases >= CASES  # fewer are for a load: it refuses what breaks a page, not what reads badly
        self.report = Report()
        self.specifications: dict[str, list[Specification]] = defaultdict(list)
        self.words: dict[str, Word] = {}
        self.lessons: dict[tuple[str, str], LessonText] = {}
        self.questions: list[Question] = []

    def run(self) -> Report:
        """Check all."""
        if not self.folder.is_dir():
            message = "there is no such folder; name the one that holds MODULE/module.toml"
            self.report.problems.append(Problem(str(self.folder), 1, "content.E260", message))
            return self.report
        self._specifications()
        if self.today is not None:
            rules = ((name, rule.source) for name, rule in REGISTRY.items())
            self.report.warnings += [Problem("rules", 1, "content.W102", said) for _, said in stale(rules, self.today)]
        self._glossary()
        folders = [path.parent for path in sorted(self.folder.glob("*/module.toml"))]
        self._stray_folders(folders)
        for folder in folders:
            for language in LANGUAGES:
                self._read_lesson(folder, language)
        for folder in folders:
            if not self.only or folder.name in self.only:
                self._module(folder)
        for name in sorted(set(self.only) - {folder.name for folder in folders}):
            message = f"there is no module {name}; there are {', '.join(folder.name for folder in folders)}"
            self.report.problems.append(Problem(self.folder.name, 1, "content.E266", message))
        if self.thorough:
            self.report.problems += alike_problems(self.questions)
        unique = dict.fromkeys(self.report.problems)
        self.report.problems = sorted(unique, key=lambda problem: (problem.file, problem.line, problem.id))
        return self.report

    def _specifications(self) -> None:
        read: list[tuple[str, Specification]] = []
        for path in sorted(self.folder.glob("specifications/*/*.toml"), key=lambda path: (path.parent, path.stem)):
            found = self._read(path, parse_specification)
            if found is not None:
                self.specifications[found.name].append(found)
                read.append((self._name(path), found))
                self.report.specifications.append(found.label)
                self.report.warnings += self._stale(path, found)
        if self.thorough:
            self.report.problems += source_problems(read)

    def _stale(self, path: Path, specification: Specification) -> Iterator[Problem]:
        """Warn of values after a state's rules that nobody read in the last 12 months."""
        if self.today is not None:
            lines = key_lines(self._text(path) or "")
            sources = ((key if "." in key else f"common.{key}", value.source)
                       for key, value in specification.values.items())  # fmt: skip
            for key, message in stale(sources, self.today):
                yield Problem(self._name(path), line_of(lines, tuple(key.split("."))), "content.W101", message)

    def _name(self, path: Path) -> str:
        return path.relative_to(self.folder.parent).as_posix()

    def _text(self, path: Path) -> str | None:
        try:
            return path.read_bytes().decode("utf-8").replace("\r\n", "\n")
        except UnicodeDecodeError as error:
            message = f"byte {error.start} is not UTF-8 text; save the file as UTF-8"
            self.report.problems.append(Problem(self._name(path), 1, "content.E261", message))
            return None

    def _read(self, path: Path, parse: Callable[[str, str], T]) -> T | None:
        text = self._text(path)
        if text is None:
            return None
        try:
            return parse(text, self._name(path))
        except ContentError as error:
            self.report.problems += error.problems
            return None

    def _stray_folders(self, folders: list[Path]) -> None:
        for path in sorted(self.folder.iterdir()):
            if path.is_dir() and path not in folders and path.name != "specifications" and path.name[0] not in "._":
                message = f"{path.name} has no module.toml, so nobody can open it; add one, or remove the folder"
                self.report.problems.append(Problem(self._name(path), 1, "content.E262", message))

    def _glossary(self) -> None:
        path = self.folder / "glossary.toml"
        if path.is_file():
            self.words = self._read(path, parse_glossary) or {}

    def _read_lesson(self, folder: Path, language: str) -> None:
        path = folder / f"lesson.{language}.md"
        if not path.is_file():
            message = "the lesson is missing in this language; write it"
            self.report.problems.append(Problem(self._name(path), 1, "content.E240", message))
            return
        text = self._text(path)
        if text is not None:
            self.lessons[folder.name, language] = read_lesson_text(text, self._name(path))

    def _module(self, folder: Path) -> None:
        path = folder / "module.toml"
        self.report.modules.append(folder.name)
        module = self._read(path, parse_module)
        specifications = self.specifications.get(module.specification, []) if module is not None else []
        if module is not None and not specifications:
            known = ", ".join(sorted(self.specifications)) or "none"
            self._at(
                path,
                ("specification",),
                "E263",
                f'there is no specification "{module.specification}"; there are {known}',
            )
        if module is not None and specifications and module.since:
            specifications = self._since(path, module, specifications)
        questions = self._questions(folder, specifications)
        if module is not None:
            for key, code, message in _plan_problems(module, questions):
                self._at(path, key, code, message)
        self._lessons(folder, specifications)

    def _since(self, path: Path, module: Module, known: list[Specification]) -> list[Specification]:
        revisions = [specification.revision for specification in known]
        if module.since not in revisions:
            there = ", ".join(revisions)
            message = f'since = "{module.since}" is no revision of {module.specification}; there are {there}'
            self._at(path, ("since",), "E265", message)
        return [specification for specification in known if covers(module, specification.revision)]

    def _at(self, path: Path, key: tuple[str, ...], code: str, message: str) -> None:
        line = line_of(key_lines(self._text(path) or ""), key)
        self.report.problems.append(Problem(self._name(path), line, f"content.{code}", message))

    def _questions(self, folder: Path, specifications: list[Specification]) -> list[Question]:
        found = []
        for path in sorted(folder.glob("questions/*.toml")):
            self.report.questions += 1
            question = self._read(path, parse_question)
            if question is None:
                continue
            found.append(question)
            if question.state != "retired":
                self.questions.append(question)
                if self.thorough:
                    self.report.problems += question_problems(question, self.words, specifications)
                self._try(question, specifications)
        return found

    def _try(self, question: Question, specifications: list[Specification]) -> None:
        """Try a question under every revision; a fault of the same kind and place is told once, with its revisions."""
        found: dict[tuple[int, str], tuple[Problem, list[str]]] = {}
        for specification in specifications:
            made, problems = try_question(question, specification, self.cases)
            self.report.cases += made
            for problem in problems:
                found.setdefault((problem.line, problem.id), (problem, []))[1].append(specification.label)
        for problem, labels in found.values():
            under = ", ".join(dict.fromkeys(labels))
            self.report.problems.append(problem._replace(message=f"{problem.message} (under {under})"))

    def _lessons(self, folder: Path, specifications: list[Specification]) -> None:
        english, spanish = (self.lessons.get((folder.name, language)) for language in LANGUAGES)
        if english is not None and spanish is not None:
            self.report.problems += compare(english, spanish)
        for language in LANGUAGES:
            lesson = self.lessons.get((folder.name, language))
            if lesson is None:
                continue
            self.report.problems += check_links(lesson, language, self.lessons, self.words)
            path = folder / f"lesson.{language}.md"
            text = self._text(path) or ""
            if self.thorough:
                self.report.problems += lesson_problems(text, self._name(path), language, self.words, specifications)
                self.report.problems += caution_problems(text, self._name(path), language)
            self._pages(text, self._name(path), specifications, language)

    def _pages(self, text: str, name: str, specifications: list[Specification], language: str) -> None:
        if self.render is None:
            return
        words = {key: {"en": word.en, "es": word.es, "note": word.note} for key, word in self.words.items()}
        for specification in specifications:
            try:
                self.render(text, name, specification, language, words)
            except ContentError as error:
                # a missing word is told above, with its line
                self.report.problems += [problem for problem in error.problems if problem.id != "content.E406"]


def _plan_problems(module: Module, questions: list[Question]) -> Iterator[tuple[tuple[str, ...], str, str]]:
    """Give what the module's check asks for and the questions in use can't give."""
    usable = {q.id: q for q in questions if q.state == "in use" and q.use in FOR_EXAMS}
    topics = Counter(question.topic for question in usable.values())
    for topic, count in module.check.topics.items():
        if topics[topic] < count:
            message = (
                f'the check asks for {count} questions on "{topic}", {topics[topic]} are in use for exams '
                f"({', '.join(f'{name}: {number}' for name, number in sorted(topics.items()))}); "
                "write more, or change the plan"
            )
            yield ("check", "topics", topic), "E264", message
    for one in module.check.critical:
        if one not in usable:
            message = f'critical question "{one}" is not in use for exams here; correct its id, or its use'
            yield ("check", "critical"), "E264", message
    critical = Counter(q.topic for q in usable.values() if q.critical or q.id in module.check.critical)
    for topic, count in critical.items():
        if count > module.check.topics.get(topic, 0):
            planned = module.check.topics.get(topic, 0)
            message = (
                f'{count} critical questions are on "{topic}", for which the check has {planned} places; add places'
            )
            yield ("check", "topics"), "E264", message


def check_lessons(
    folder: Path,
    *,
    cases: int = CASES,
    render: Render | None = None,
    only: Collection[str] = (),
    today: date | None = None,
) -> Report:
    """Check a lessons folder.

    Args:
        folder: holds `specifications/`, `glossary.toml` and a folder for each module.
        cases: how often each question is made under each revision.
        render: makes a lesson's page (text, path, specification, language, glossary); without it pages aren't made.
        only: names of the modules to check; all when empty.
        today: warn of a state's sources, of values and of rules, that were not read in the 12 months before.
    """
    return _Checker(folder, cases, render, only, today).run()
