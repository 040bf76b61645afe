"""Questions of every kind, written for these tests, and the two revisions they are tried under."""

from collections.abc import Callable
from pathlib import Path

import pytest

from trainer.questions.format import parse_question
from trainer.questions.model import Question
from trainer.rules.specification import Specification, parse_specification

LESSONS = Path(__file__).resolve().parents[2] / "lessons"

HEAD = """kind = "{kind}"
topic = "layout"
use = "{use}"
danger = {{ en = "Water gets in through it.", es = "Por ahí entra el agua." }}
part = "base"
"""

COURSES = (
    HEAD.format(kind="count", use="both")
    + """drawing = "roof_plan"
[parameters]
run = { from = "18 ft", to = "60 ft", step = "6 in" }
[values]
starter_width = { rule = "starter_width" }
[answer]
rule = "course_count"
[mistakes.forgot_the_lap]
changed = { side_lap = "0 in" }
[[constraints]]
mistake = "forgot_the_lap"
[[constraints]]
rule = "last_course_width"
at_least = "8 in"
[text.en]
title = "Courses up the slope"
stem = "The deck runs {{ run }} up the slope, side laps are {{ side_lap }}. How many courses?"
after = "Count the starter too: {{ answer }}."
mistakes.forgot_the_lap = "{{ mistake }} forgets the lap; a course gains {{ exposure }}."
[text.es]
title = "Hileras de la pendiente"
stem = "La plataforma mide {{ run }} de abajo arriba, con traslapes de {{ side_lap }}. ¿Cuántas hileras?"
after = "Cuente también el arranque: {{ answer }}."
mistakes.forgot_the_lap = "{{ mistake }} olvida el traslape; una hilera gana {{ exposure }}."
"""
)

LINE = (
    HEAD.format(kind="measure", use="both")
    + """[parameters]
run = { from = "18 ft", to = "60 ft", step = "6 in" }
line = { from = "2", to = "5", dimension = "count" }
[values]
starter_width = { rule = "starter_width" }
[answer]
rule = "chalk_lines"
item = "line"
within = "1/8 in"
[mistakes.forgot_the_lap]
changed = { side_lap = "0 in" }
[mistakes.full_first_sheet]
changed = { starter_width = "roll_width" }
[text.en]
stem = "The deck runs {{ run }}. How far from the low edge is chalk line {{ line }}?"
mistakes.forgot_the_lap = "That leaves out the side lap."
mistakes.full_first_sheet = "The first course is cut."
[text.es]
stem = "La plataforma mide {{ run }}. ¿A qué distancia del borde bajo va la línea {{ line }}?"
mistakes.forgot_the_lap = "Le falta el traslape lateral."
mistakes.full_first_sheet = "La primera hilera va cortada."
"""
)

NUMBERS = (
    HEAD.format(kind="choice", use="exam")
    + """show = 3
[parameters]
run = { from = "18 ft", to = "60 ft", step = "6 in" }
[values]
starter_width = { rule = "starter_width" }
[answer]
rule = "last_course_width"
[mistakes.forgot_the_lap]
changed = { side_lap = "0 in" }
[mistakes.forgot_the_overhang]
changed = { overhang = "0 in" }
[mistakes.gave_the_exposure]
rule = "exposure"
[text.en]
stem = "The deck runs {{ run }}. How wide is the last course?"
mistakes.forgot_the_lap = "The lap is left out."
mistakes.forgot_the_overhang = "The overhang is left out."
mistakes.gave_the_exposure = "That is the exposure."
[text.es]
stem = "La plataforma mide {{ run }}. ¿Qué ancho tiene la última hilera?"
mistakes.forgot_the_lap = "Falta el traslape."
mistakes.forgot_the_overhang = "Falta el vuelo."
mistakes.gave_the_exposure = "Eso es el avance."
"""
)

ROWS = (
    HEAD.format(kind="choice", use="practice")
    + """show = 4
right = { least = 1, most = 2 }
[parameters]
lap = { from = "3 in", to = "8 in", step = "1/4 in", dimension = "length" }
[[rows]]
id = "leave_it"
right = "lap >= end_lap"
[[rows]]
id = "note_it"
right = "lap >= end_lap"
[[rows]]
id = "cover_it"
right = "lap < end_lap"
[[rows]]
id = "caulk_it"
right = false
[[rows]]
id = "nail_it"
right = false
[[rows]]
id = "heat_it"
right = false
when = "lap < end_lap - '1 in'"
[text.en]
stem = "An end lap measures {{ lap }}, at least {{ end_lap }} is asked for. What now?"
rows.leave_it = "Leave it."
rows.note_it = "Write the reading down and go on."
rows.cover_it = "Stick a piece over it, a lap to each side."
rows.caulk_it = "Run sealant along its edge."
rows.nail_it = "Nail it down."
rows.heat_it = "Warm it with a torch and step on it."
mistakes.leave_it = "It is too narrow."
mistakes.note_it = "A note keeps no water out."
mistakes.cover_it = "It is wide enough."
mistakes.caulk_it = "Sealant does not make a lap wider."
mistakes.nail_it = "A nail makes a hole."
mistakes.heat_it = "Heat does not make a lap wider."
[text.es]
stem = "Un traslape de punta mide {{ lap }}, se pide mínimo {{ end_lap }}. ¿Qué hace?"
rows.leave_it = "Dejarlo."
rows.note_it = "Apuntar la medida y seguir."
rows.cover_it = "Pegarle encima una pieza que traslape a los dos lados."
rows.caulk_it = "Ponerle sellador en la orilla."
rows.nail_it = "Clavarlo."
rows.heat_it = "Calentarlo con soplete y pisarlo."
mistakes.leave_it = "Es muy angosto."
mistakes.note_it = "Apuntarlo no detiene el agua."
mistakes.cover_it = "Ya es bastante ancho."
mistakes.caulk_it = "El sellador no lo hace más ancho."
mistakes.nail_it = "Un clavo hace un agujero."
mistakes.heat_it = "El calor no lo hace más ancho."
"""
)

STEPS = (
    HEAD.format(kind="order", use="exam")
    + "show = 4\n"
    + "".join(f'[[steps]]\nid = "{one}"\n' for one in ("nailer", "sheet", "turn", "bead", "corner", "length", "prime"))
    + "".join(
        f'[[pairs]]\nbefore = "{before}"\nafter = "{after}"\n{why}'
        for before, after, why in (
            ("nailer", "sheet", 'why = { en = "Nobody sees it later.", es = "Después ya no se ve." }\n'),
            ("sheet", "turn", ""),
            ("turn", "bead", ""),
            ("bead", "corner", ""),
            ("corner", "length", ""),
            ("length", "prime", ""),
        )
    )
    + """[text.en]
stem = "Put these steps in order."
steps.nailer = "Check the nailer."
steps.sheet = "Stick the base sheet."
steps.turn = "Turn it down."
steps.bead = "Run the bead."
steps.corner = "Set the corner."
steps.length = "Set the lengths."
steps.prime = "Prime the flange."
[text.es]
stem = "Ponga los pasos en orden."
steps.nailer = "Revisar la madera de clavado."
steps.sheet = "Pegar la hoja base."
steps.turn = "Doblarla hacia abajo."
steps.bead = "Poner el cordón."
steps.corner = "Poner la esquina."
steps.length = "Poner los tramos."
steps.prime = "Imprimar la pestaña."
"""
)

READINGS = (
    HEAD.format(kind="judge", use="practice")
    + """show = 3
[[readings]]
id = "side_lap"
limit = "side_lap"
good = { from = "0 in", to = "3/4 in", step = "1/16 in" }
bad = { from = "1/4 in", to = "1 in", step = "1/16 in" }
near = true
[[readings]]
id = "end_lap"
limit = "end_lap"
good = { from = "0 in", to = "2 in", step = "1/8 in" }
bad = { from = "1/4 in", to = "2 in", step = "1/8 in" }
[[readings]]
id = "joint"
limit = "deck.joint_gap"
good = { from = "0 in", to = "3/16 in", step = "1/16 in" }
bad = { from = "1/16 in", to = "1/2 in", step = "1/16 in" }
[[readings]]
id = "strip"
limit = "edge.strip_width"
good = { from = "0 in", to = "1/2 in", step = "1/4 in" }
bad = { from = "1/4 in", to = "1 in", step = "1/4 in" }
[text.en]
stem = "Accept the work, or reject it and mark the reading that fails."
readings.side_lap = "Side lap, courses 2 and 3"
readings.end_lap = "End lap, course 2"
readings.joint = "Deck joint at the ridge"
readings.strip = "Strip at the corner"
mistakes.side_lap = "The lap keeps water out."
mistakes.end_lap = "The end lap keeps water out."
mistakes.joint = "A wide joint tears the sheet."
mistakes.strip = "The strip must pass the flange."
[text.es]
stem = "Acepte el trabajo, o rechácelo y marque la medición que no pasa."
readings.side_lap = "Traslape lateral, hileras 2 y 3"
readings.end_lap = "Traslape de punta, hilera 2"
readings.joint = "Junta en la cumbrera"
readings.strip = "Tira en la esquina"
mistakes.side_lap = "El traslape detiene el agua."
mistakes.end_lap = "El traslape de punta detiene el agua."
mistakes.joint = "Una junta ancha rompe la hoja."
mistakes.strip = "La tira debe pasar la pestaña."
"""
)

SPOT = (
    HEAD.format(kind="spot", use="exam").replace('part = "base"', 'part = "edge"')
    + """drawing = { name = "nail_rows", part = "edge", edge = "edge", flange = "flange_seen" }
sound = "1/4"
[parameters]
edge = { values = ["8 ft", "10 ft", "12 ft"] }
flange_seen = { values = ["3 in", "3 1/4 in", "3 1/2 in", "4 in"], dimension = "length" }
[[targets]]
id = "skipped_upper"
part = "upper_row"
fault = { skipped = "upper" }
[[targets]]
id = "stray_lower"
part = "lower_row"
fault = { stray = "lower" }
[[targets]]
id = "wide_spacing"
part = "spacing"
input = "row_spacing"
limit = "row_spacing"
good = { from = "0 in", to = "1 in", step = "1/4 in" }
bad = { from = "1/2 in", to = "3 in", step = "1/4 in" }
[[targets]]
id = "inside"
part = "inner_edge"
[[targets]]
id = "outside"
part = "outer_edge"
[text.en]
title = "Nails in two rows"
stem = "Point at what is not as asked for."
mistakes.skipped_upper = "A place of the upper row is empty."
mistakes.stray_lower = "One nail of the lower row stands at the edge."
mistakes.wide_spacing = "Within a row nails stand at most {{ row_spacing }} on center."
mistakes.inside = "This edge runs straight."
[text.es]
title = "Clavos en dos filas"
stem = "Señale lo que no está como se pide."
mistakes.skipped_upper = "En la fila de arriba hay un lugar vacío."
mistakes.stray_lower = "Un clavo de la fila de abajo está en la orilla."
mistakes.wide_spacing = "En una fila los clavos van cuando mucho a {{ row_spacing }} de centro a centro."
mistakes.inside = "Esta orilla corre derecha."
"""
)

TEXTS = {
    "courses": COURSES,
    "line": LINE,
    "numbers": NUMBERS,
    "rows": ROWS,
    "steps": STEPS,
    "readings": READINGS,
    "spot": SPOT,
}
Make = Callable[[str], Question]


def _specification(revision: str) -> Specification:
    path = LESSONS / "specifications" / "two-ply-self-adhered" / f"{revision}.toml"
    return parse_specification(path.read_text(encoding="utf-8"), f"two-ply-self-adhered/{revision}.toml")


@pytest.fixture(scope="session")
def new() -> Specification:
    """The newer revision."""
    return _specification("2026")


@pytest.fixture(scope="session")
def old() -> Specification:
    """The older revision."""
    return _specification("2024")


@pytest.fixture(scope="session")
def texts() -> dict[str, str]:
    """The texts of the sample questions, by name."""
    return TEXTS


@pytest.fixture(scope="session")
def questions() -> dict[str, Question]:
    """The sample questions, by name: courses, line, numbers, rows, steps, readings, spot."""
    return {name: parse_question(text, f"lessons/samples/questions/{name}.toml") for name, text in TEXTS.items()}


@pytest.fixture(scope="session")
def parse() -> Make:
    """Read a question's text as the file of a module."""
    return lambda text: parse_question(text, "lessons/samples/questions/sample.toml")
