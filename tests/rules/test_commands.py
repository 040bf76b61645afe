"""The commands `rules` and `rule`: shapes that programs rely on, and reasons for what is refused."""

import json
from io import StringIO
from typing import Any

import pytest
from django.core.management import CommandError, call_command, execute_from_command_line

from trainer.rules import REGISTRY

REVISION = "two-ply-self-adhered/2026"


def said(*words: str) -> Any:
    """Run a command with --json and read what it wrote."""
    out = StringIO()
    call_command(*words, "--json", stdout=out)
    return json.loads(out.getvalue())


def test_it_lists_every_rule_with_its_inputs_and_source() -> None:
    """The list has the keys that programs rely on, for every rule."""
    listed = said("rules")

    assert {entry["name"] for entry in listed} == set(REGISTRY)
    for entry in listed:
        assert list(entry) == ["name", "topic", "edition", "inputs", "result", "source"]
        assert set(entry["result"]) == {"dimension", "unit"}
        assert entry["source"]
        for item in entry["inputs"]:
            assert list(item) == ["name", "dimension", "unit", "required", "description"]
            assert item["description"]


def test_it_lists_one_topic_for_people() -> None:
    """Without --json a line a rule."""
    out = StringIO()
    call_command("rules", "--topic", "fastening", "--language", "es", stdout=out)

    assert "nails_along (edge, spacing)  fastening: Clavos a lo largo de un borde" in out.getvalue()
    assert "course_count" not in out.getvalue()


def test_it_works_a_rule_with_its_steps() -> None:
    """10 ft at 3 in over both rows is 41 nails, 21 and 20."""
    worked = said("rule", "nails_two_rows", "edge=10 ft", "spacing=3 in")

    assert list(worked) == ["rule", "edition", "value", "unit", "text", "steps"]
    assert (worked["rule"], worked["edition"], worked["value"], worked["text"]) == ("nails_two_rows", 1, 41, "41")
    assert [list(step) for step in worked["steps"]] == [["name", "label", "expression", "value", "text"]] * 4
    assert [step["value"] for step in worked["steps"]] == [40, 21, 20, 41]
    assert worked["steps"][0]["expression"] == "10 ft ÷ 3 in ↑"


def test_it_gives_lengths_in_inches_and_lists_as_lists() -> None:
    """A value is a number in `unit`, a list of them where the result is a list."""
    assert said("rule", "exposure", "roll_width=1 m", "side_lap=89 mm")["value"] == pytest.approx(911 / 25.4)
    lines = said("rule", "chalk_lines", "run=10 ft", "overhang=0", "starter_width=36", "roll_width=36", "side_lap=3")

    assert lines["value"] == [36, 69, 102]
    assert lines["unit"] == "in"


def test_it_fills_inputs_from_a_specification_and_takes_its_names() -> None:
    """Names not given come from the revision; a value may be one of its names."""
    filled = said("rule", "course_count", "run=24 ft 6 in", "--specification", REVISION)
    named = said("rule", "strip_cover", "strip_width=strip_width.least", "--specification", REVISION)
    part = said("rule", "exposure", "--specification", REVISION, "--part", "cap")

    assert filled["value"] == 9
    assert named["value"] == 3
    assert part["text"] == "3 ft 1/8 in"


def test_it_takes_options_before_inputs(capfd: pytest.CaptureFixture[str]) -> None:
    """`rule NAME --specification X run=…` is as good as the options at the end, typed on a command line."""
    execute_from_command_line(["manage.py", "rule", "course_count", "--specification", REVISION, "run=24 ft 6 in"])

    assert capfd.readouterr().out.splitlines()[-1].startswith("9  (")


def test_it_answers_in_spanish_and_metric() -> None:
    """Labels and texts follow the language and units asked for."""
    out = StringIO()
    call_command(
        "rule", "strip_cover", "strip_width=200 mm", "flange=75 mm", "--language", "es", "--units", "metric", stdout=out
    )

    assert out.getvalue().splitlines()[0] == "tira más allá de la pestaña: 200 mm − 75 mm = 125 mm"


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        (["course_cont"], "Did you mean course_count"),
        (["nails_along", "edge=10 kg", "spacing=3 in"], "edge is 10 kg; it must be a length"),
        (["nails_along", "edge=10 ft"], "spacing is missing"),
        (["nails_along", "edge=nan", "spacing=3 in"], "edge is nan"),
        (["nails_along", "edge=10 ft", "spacing=0 in"], "spacing is 0 in; it must be at least 1/4 in"),
        (["nails_along", "edge"], "is not an input. Write input=value"),
        (["nails_along", "edge=1 ft", "edge=2 ft"], "edge is given twice"),
        (["nails_along", "edges=1 ft", "spacing=3 in"], "Did you mean edge"),
        (
            ["exposure", "--specification", "no-such/2026"],
            "two-ply-self-adhered/2024, two-ply-self-adhered/2026, two-ply-self-adhered/2026-11.",
        ),
        (["strip_cover", "--specification", REVISION], "strip_width is missing"),
    ],
)
def test_it_refuses_bad_input_with_the_reason_and_exit_code_2(words: list[str], reason: str) -> None:
    """The reason goes to standard error and the exit code is 2."""
    with pytest.raises(CommandError) as refused:
        call_command("rule", *words, stdout=StringIO())

    assert reason in str(refused.value)
    assert refused.value.returncode == 2
