"""Read a roster of people from a CSV or XLSX file, and name every row that cannot be read."""

from dataclasses import asdict, dataclass
from typing import Any

from django.utils.translation import gettext as _

from trainer.base.errors import Refused
from trainer.base.texts import one_line
from trainer.people.models import Language, Role
from trainer.people.services.members import clean_email
from trainer.people.services.roster_problem import Problem, RosterRefused, adder
from trainer.people.services.roster_table import read_table

MOST_PEOPLE = 2000
MOST_LETTERS = {"name": 120, "number": 30, "crew": 60}  # as their columns take
HEADINGS = {
    "name": ("name", "nombre"),
    "number": ("number", "no.", "número", "numero", "núm."),
    "email": ("email", "e-mail", "correo", "correo electrónico"),
    "language": ("language", "idioma"),
    "roles": ("roles", "role", "función", "funciones", "funcion"),
    "crew": ("crew", "cuadrilla"),
}
LANGUAGES = {
    "": Language.ENGLISH,
    "en": Language.ENGLISH,
    "english": Language.ENGLISH,
    "inglés": Language.ENGLISH,
    "es": Language.SPANISH,
    "spanish": Language.SPANISH,
    "español": Language.SPANISH,
}
ROLES = {
    **{role.value: role.value for role in Role},
    "aprendiz": "trainee",
    "capataz": "foreman",
    "instructor": "trainer",
    "evaluador": "evaluator",
    "oficina": "office",
    "administrador": "administrator",
}


@dataclass(frozen=True)
class RosterRow:
    """One person of a roster, as read from its row of the file."""

    row: int
    name: str
    number: str = ""
    email: str = ""
    language: str = Language.ENGLISH.value
    roles: tuple[str, ...] = (Role.TRAINEE.value,)
    crew: str = ""

    @property
    def language_label(self) -> Any:
        """The language's name, for a page."""
        return Language(self.language).label

    @property
    def role_labels(self) -> list[Any]:
        """The names of the roles, in order, for a page."""
        return [Role(role).label for role in self.roles]

    def as_plain(self) -> dict[str, Any]:
        """Give the row as plain values, to send along with a preview."""
        return {**asdict(self), "roles": list(self.roles)}


def read_roster(file_name: str, content: bytes) -> list[RosterRow]:
    """Read a CSV or XLSX file whose first row holds the headings.

    Raises:
        RosterRefused: The file or some of its rows cannot be read; names all of them.
    """
    table = read_table(file_name, content)
    columns = _columns(next(table, (1, []))[1])
    problems: list[Problem] = []
    rows: list[RosterRow] = []
    for number, cells in table:
        values = {name: one_line(cells[place]) if place < len(cells) else "" for name, place in columns.items()}
        if any(values.values()):
            rows.append(_row(number, values, problems))
        if len(rows) > MOST_PEOPLE:
            break
    if not rows:
        problems.append(
            Problem(1, "", _("The file names nobody."), _("Put one person on each row below the headings."))
        )
    if len(rows) > MOST_PEOPLE:
        problems.append(
            Problem(MOST_PEOPLE + 2, "", _("The file has more than 2,000 people."), _("Split it into smaller files."))
        )
    if problems:
        raise RosterRefused(problems)
    return rows


def _columns(headings: list[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    problems: list[Problem] = []
    for place, heading in enumerate(headings):
        word = heading.strip().lower()
        name = next((name for name, words in HEADINGS.items() if word in words), None)
        if name is None and word:
            what = _("The column “%s” is unknown.") % heading.strip()
            problems.append(Problem(1, heading.strip(), what, _known_headings()))
        elif name in found:
            what = _("The column “%s” is there twice.") % heading.strip()
            problems.append(Problem(1, heading.strip(), what, _("Leave one of them out.")))
        elif name is not None:
            found[name] = place
    if "name" not in found:
        problems.append(Problem(1, "name", _("There is no column “name”."), _known_headings()))
    if problems:
        raise RosterRefused(problems)
    return found


def _row(number: int, values: dict[str, str], problems: list[Problem]) -> RosterRow:
    add = adder(problems, number)
    name = values["name"]
    if not name:
        add("name", _("There is no name."), _("Enter the name as it should stand on records."))
    elif len(name) > MOST_LETTERS["name"]:
        add("name", _("The name is longer than 120 letters."), _("Shorten it."))
    if len(values.get("number", "")) > MOST_LETTERS["number"]:
        add("number", _("The number is longer than 30 letters."), _("Shorten it."))
    if len(values.get("crew", "")) > MOST_LETTERS["crew"]:
        add("crew", _("The crew's name is longer than 60 letters."), _("Shorten it."))
    email = values.get("email", "")
    try:
        email = clean_email(email) or ""
    except Refused:
        add("email", _("“%s” is no e-mail address.") % email, _("Write it like name@company.example."))
    language = LANGUAGES.get(values.get("language", "").lower())
    if language is None:
        add("language", _("The language “%s” is unknown.") % values["language"], _("Write English or Spanish."))
    words = values.get("roles", "").lower().replace(",", " ").replace(";", " ").split() or [Role.TRAINEE.value]
    for word in words:
        if word not in ROLES:
            mend = _("Write one or more of: %s.") % ", ".join(str(role.label) for role in Role)
            add("roles", _("The role “%s” is unknown.") % word, mend)
    roles = tuple(dict.fromkeys(ROLES[word] for word in words if word in ROLES))
    spoken = (language or Language.ENGLISH).value
    return RosterRow(number, name, values.get("number", ""), email, spoken, roles, values.get("crew", ""))


def _known_headings() -> str:
    return _("The first row holds these headings: name, number, email, language, roles, crew. Only name is needed.")
