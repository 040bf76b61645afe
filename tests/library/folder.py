"""A small lessons folder for tests: a module with a question of each kind, and the real specification's revisions."""

from pathlib import Path

from tests.content import REVISIONS, SPECIFICATION, copy_revisions

__all__ = ["SPECIFICATION"]
OLD, NEW = REVISIONS

MODULE = """
title = { en = "Laps on a small roof", es = "Traslapes en un techo chico" }
summary = { en = "Where laps go.", es = "Dónde van los traslapes." }
specification = "two-ply-self-adhered"
minutes = 5
[check]
questions = 2
topics = { laps = 2 }
passing_score = 2
reason = { en = "Both laps matter.", es = "Los dos traslapes importan." }
minutes = 10
wait_hours = 1
valid_months = 12
"""
LESSON = {
    "en": """# Laps on a small roof

## Side laps

A side lap is at least {{ base.side_lap }}. See [the sum](#on-one-screen), the [base sheet](glossary:base-sheet).

!!! caution
    Stay behind the warning line.

::: drawing side_lap part=base show=exposure
:::

::: photo side-lap
:::

## On one screen

1. Lap {{ base.side_lap }}.
""",
    "es": """# Traslapes en un techo chico

## Traslapes laterales

Un traslape lateral mide al menos {{ base.side_lap }}. Vea [el resumen](#en-una-pantalla) y la
[hoja base](glossary:base-sheet).

!!! caution
    Quédese detrás de la línea de advertencia.

::: drawing side_lap part=base show=exposure
:::

::: photo side-lap
:::

## En una pantalla

1. Traslape {{ base.side_lap }}.
""",
}
DANGER = 'danger = { en = "Water gets in.", es = "Entra agua." }'
QUESTIONS = {
    "exposure": f"""
kind = "measure"
topic = "laps"
use = "both"
{DANGER}
part = "base"
drawing = {{ name = "side_lap", ask = "exposure", side_lap = "lap" }}
[parameters]
lap = {{ from = "2 in", to = "9 in", step = "1/16 in", dimension = "length" }}
[answer]
rule = "exposure"
inputs = {{ side_lap = "lap" }}
within = "1/8 in"
[mistakes.added_the_lap]
expression = "roll_width + lap"
[text.en]
title = "The exposure"
stem = "The lap is {{{{ lap }}}}, the sheet {{{{ roll_width }}}}. What is the exposure?"
mistakes.added_the_lap = "The lap is taken off the width, not added."
[text.es]
title = "La exposición"
stem = "El traslape es {{{{ lap }}}}, la hoja mide {{{{ roll_width }}}}. ¿Cuánto es la exposición?"
mistakes.added_the_lap = "El traslape se resta del ancho, no se suma."
""",
    "nails": f"""
kind = "count"
topic = "laps"
use = "both"
state = "draft"
{DANGER}
part = "base"
[parameters]
edge = {{ from = "12 ft", to = "80 ft", step = "3 in" }}
[answer]
rule = "nails_along"
inputs = {{ spacing = "nail_spacing" }}
[mistakes.nails_each_foot]
changed = {{ spacing = "12 in" }}
[text.en]
stem = "The eave is {{{{ edge }}}} long, nails stand {{{{ nail_spacing }}}} o.c. How many nails?"
mistakes.nails_each_foot = "One nail a foot is too few."
[text.es]
stem = "El alero mide {{{{ edge }}}}, los clavos van a {{{{ nail_spacing }}}}. ¿Cuántos clavos?"
mistakes.nails_each_foot = "Un clavo por pie es muy poco."
""",
    "short-lap": f"""
kind = "choice"
topic = "laps"
use = "exam"
critical = true
{DANGER}
part = "base"
show = 4
[parameters]
lap = {{ from = "1 in", to = "2 in", step = "1/16 in", dimension = "length" }}
[[rows]]
id = "cover_strip"
right = true
[[rows]]
id = "caulk_it"
right = false
[[rows]]
id = "nail_it"
right = false
[[rows]]
id = "heat_it"
right = false
[text.en]
stem = "A side lap measures {{{{ lap }}}}. What do you do?"
rows.cover_strip = "Cover it with a strip."
rows.caulk_it = "Fill it with sealant."
rows.nail_it = "Nail it down."
rows.heat_it = "Heat it."
mistakes.caulk_it = "Sealant is no lap."
mistakes.nail_it = "Nails make holes."
mistakes.heat_it = "Heat does not widen a lap."
[text.es]
stem = "Un traslape lateral mide {{{{ lap }}}}. ¿Qué hace?"
rows.cover_strip = "Lo cubre con una tira."
rows.caulk_it = "Lo llena de sellador."
rows.nail_it = "Lo clava."
rows.heat_it = "Lo calienta."
mistakes.caulk_it = "El sellador no es traslape."
mistakes.nail_it = "Los clavos hacen agujeros."
mistakes.heat_it = "El calor no ensancha el traslape."
""",
    "steps": f"""
kind = "order"
topic = "laps"
use = "exam"
{DANGER}
[[steps]]
id = "sweep"
[[steps]]
id = "line"
[[steps]]
id = "stick"
[[pairs]]
before = "sweep"
after = "line"
[[pairs]]
before = "line"
after = "stick"
[text.en]
stem = "Put the steps in order."
steps.sweep = "Sweep the roof deck."
steps.line = "Snap the chalk line."
steps.stick = "Stick the sheet."
[text.es]
stem = "Ponga los pasos en orden."
steps.sweep = "Barrer la plataforma."
steps.line = "Marcar la línea de tiza."
steps.stick = "Pegar la hoja."
""",
    "readings": f"""
kind = "judge"
topic = "laps"
use = "exam"
photo = "side-lap"
{DANGER}
part = "base"
[[readings]]
id = "side_lap"
limit = "side_lap"
good = {{ from = "0 in", to = "3/4 in", step = "1/16 in" }}
bad = {{ from = "1/4 in", to = "1 in", step = "1/16 in" }}
[[readings]]
id = "end_lap"
limit = "end_lap"
good = {{ from = "0 in", to = "2 in", step = "1/8 in" }}
bad = {{ from = "1/4 in", to = "2 in", step = "1/8 in" }}
[[readings]]
id = "stagger"
limit = "end_lap_stagger"
good = {{ from = "0 in", to = "24 in", step = "1/2 in" }}
bad = {{ from = "1 in", to = "18 in", step = "1/2 in" }}
[text.en]
stem = "Accept the work, or reject it."
readings.side_lap = "Side lap in course two"
readings.end_lap = "End lap in course two"
readings.stagger = "Stagger of courses two and three"
mistakes.side_lap = "A narrow side lap opens."
mistakes.end_lap = "A narrow end lap opens."
mistakes.stagger = "Laps too near each other leak."
[text.es]
stem = "Acepte el trabajo o rechácelo."
readings.side_lap = "Traslape lateral en la hilera dos"
readings.end_lap = "Traslape de punta en la hilera dos"
readings.stagger = "Desfase entre las hileras dos y tres"
mistakes.side_lap = "Un traslape angosto se abre."
mistakes.end_lap = "Un traslape de punta angosto se abre."
mistakes.stagger = "Traslapes muy juntos gotean."
""",
    "rows-of-nails": f"""
kind = "spot"
topic = "laps"
use = "exam"
{DANGER}
part = "edge"
drawing = {{ name = "nail_rows", part = "edge", edge = "edge" }}
sound = "1/4"
[parameters]
edge = {{ values = ["8 ft", "10 ft", "12 ft"] }}
[[targets]]
id = "skipped_upper"
part = "upper_row"
fault = {{ skipped = "upper" }}
[[targets]]
id = "stray_lower"
part = "lower_row"
fault = {{ stray = "lower" }}
[[targets]]
id = "wide_spacing"
part = "spacing"
input = "row_spacing"
limit = "row_spacing"
good = {{ from = "0 in", to = "1 in", step = "1/4 in" }}
bad = {{ from = "1/2 in", to = "3 in", step = "1/4 in" }}
[[targets]]
id = "outside"
part = "outer_edge"
[text.en]
stem = "Point at what is not as asked for."
mistakes.skipped_upper = "A place of the upper row is empty."
mistakes.stray_lower = "One nail of the lower row stands at the edge."
mistakes.wide_spacing = "A row's nails stand too far apart."
[text.es]
stem = "Señale lo que no está como se pide."
mistakes.skipped_upper = "En la fila de arriba hay un lugar vacío."
mistakes.stray_lower = "Un clavo de la fila de abajo está en la orilla."
mistakes.wide_spacing = "Los clavos de una fila están muy separados."
""",
}
GLOSSARY = """
[base-sheet]
en = "base sheet"
es = "hoja base"
note = { en = "The first ply.", es = "La primera capa." }
"""
SLUG = "small-laps"


def write_folder(folder: Path) -> Path:
    """Write the small lessons folder and give it."""
    copy_revisions(folder)
    (folder / SLUG / "questions").mkdir(parents=True)
    (folder / "glossary.toml").write_text(GLOSSARY)
    (folder / SLUG / "module.toml").write_text(MODULE)
    for language, text in LESSON.items():
        (folder / SLUG / f"lesson.{language}.md").write_text(text)
    for name, text in QUESTIONS.items():
        (folder / SLUG / "questions" / f"{name}.toml").write_text(text)
    return folder
