"""Every rule as foremen meet it: how it reads, what is asked first, and whether a link opens the same sheet."""

import re
from collections.abc import Callable, Iterator
from urllib.parse import parse_qsl, urlsplit

import pytest
from django.test import Client

from tests.library.calculator.test_pages import answer, examples, field, in_spanish, link, read, value_of
from trainer.library.calculator.cautions import cautions_for
from trainer.library.calculator.forms import CalculatorForm
from trainer.library.models import Adoption
from trainer.people.access import Member
from trainer.rules import REGISTRY
from trainer.rules.dimensions import FLAG, LENGTHS
from trainer.rules.words import giver

pytestmark = pytest.mark.django_db
SignIn = Callable[[Member], Client]
NOWHERE = re.compile(r"\{|\}|\bNone\b|\bnan\b|\b[a-z]+_[a-z]+\b|  ")  # what no reader may meet in a step
PLACES = re.compile(r"\d\.\d{5,}")


@pytest.fixture
def client(sign_in: SignIn, foreman: Member) -> Client:
    """Give a client signed in as the foreman."""
    return sign_in(foreman)


def steps(page: str) -> Iterator[tuple[str, str, str]]:
    """Give label, expression and value of each worked step."""
    pattern = r'<span class="what">(.*?)</span> <span class="how">(.*?)</span> <span class="value">= (.*?)</span>'
    yield from re.findall(pattern, page)


@pytest.mark.parametrize("language", ["en", "es"])
def test_it_reads_well_in_every_rule(client: Client, foreman: Member, adoption: Adoption, language: str) -> None:
    """No step shows a name of the program, a brace, a value that is not there or a row of decimals."""
    if language == "es":
        in_spanish(foreman)
    faults = []
    for name in REGISTRY:
        page = read(client, f"{name}/", **examples(name))
        for what, how, value in steps(page):
            told = (what, value) if "0.00000" in how or name == "heat_index" else (what, how, value)
            faults += [f"{name}: {text}" for text in told if NOWHERE.search(text) or PLACES.search(text)]
            faults += [f"{name}: {what} is not said"] if not how.strip() or not value.strip() else []
            faults += [f"{name}: {what}: {how} = {value}"] if how == value else []

    assert not faults


def test_it_opens_the_same_sheet_for_a_foreman_of_the_other_language(
    sign_in: SignIn, foreman: Member, trainer: Member, adoption: Adoption
) -> None:
    """Sent by one who reads Spanish, opened by one who reads English: nothing to mend, the same answer."""
    in_spanish(trainer)
    sender, reader = sign_in(trainer), sign_in(foreman)
    faults = []
    for name, rule in REGISTRY.items():
        given = examples(name)
        typed = {key: text for key, text in given.items() if key not in {"roll_width", "side_lap", "end_lap"}}
        parts = urlsplit(link(read(sender, f"{name}/", **typed)))
        sent = dict(parse_qsl(parts.query, keep_blank_values=True))
        opened = read(reader, f"{name}/", **sent)
        own = read(reader, f"{name}/", **typed)
        if "invalid-feedback" in opened or answer(opened) != answer(own):
            faults.append(name)
        faults += [f"{name}.{item.name}" for item in rule.inputs if item.name not in sent]

    assert not faults


@pytest.mark.parametrize(
    "written",
    ["24' 6 1/2\"", "24′ 6½″", "24 ft 6 1/2", "7,48 m", "748 cm", "24 pies 6 1/2 pulg", "24 ft + 6 in", "294.5"],
)
def test_its_link_carries_what_was_written_to_the_letter(client: Client, adoption: Adoption, written: str) -> None:
    """Marks, fractions and accents come back as they were written."""
    page = read(client, "course_count/", run=written)
    sent = dict(parse_qsl(urlsplit(link(page)).query, keep_blank_values=True))
    again = read(client, "course_count/", **sent)

    assert sent["run"] == written
    assert answer(again) == answer(page) == "9"


def test_nobody_of_another_company_opens_it(sign_in: SignIn, outsider: Member, foreman: Member) -> None:
    """A foreman of another company is told that there is no such page; whoever is not signed in, to sign in."""
    address = "/c/own/calculator/course_count/?run=24%27+6%22"

    assert sign_in(foreman).get(address).status_code == 200
    assert sign_in(outsider).get(address).status_code == 404
    refused = Client().get(address)
    assert refused.status_code == 302
    assert "run%3D24%2527%2B6%2522" in refused["Location"]


@pytest.mark.parametrize("humidity", ["60", "60 %", "60%", "60,0", "3/5"])
def test_it_takes_a_share_above_one_as_a_percent(client: Client, humidity: str) -> None:
    """A weather report says 60, and nobody means sixty times as much."""
    page = read(client, "dew_point/", air_temperature="70", humidity=humidity)

    assert answer(page) == answer(read(client, "dew_point/", air_temperature="70 °F", humidity="60 %"))
    assert value_of(page, "humidity") == humidity


def test_it_answers_any_odd_number_with_a_sentence() -> None:
    """Nothing, less than nothing, far too much or no number at all in any field: never an error page."""
    faults = []
    for name, rule in REGISTRY.items():
        for item in rule.inputs:
            for odd in ("0", "-1", "1/0", "99999999", "1e9", "x", "; ;", "½", "٣"):
                form = CalculatorForm({**examples(name), item.name: odd}, rule=rule, language="en")
                try:
                    told = form.is_valid() or any(form.errors.values())
                except Exception as error:  # noqa: BLE001  whatever it is, the foreman would see an error page
                    faults.append(f"{name}.{item.name} = {odd}: {error!r}")
                else:
                    assert told

    assert not faults


# -------------------------------------------------------------------------------------------------- what is asked first
def test_it_fills_a_number_in_decimals_where_it_has_them(client: Client) -> None:
    """The weight of copper is 46.368, not 46 46/125, and reads back to the same thickness."""
    page = read(client, "copper_thickness/", sheet_weight="1 psf")

    assert value_of(page, "copper_weight") == "46.368 psf per in"
    assert answer(page) == "0.0216 in"


def test_it_asks_first_for_what_nobody_fills_in(client: Client, adoption: Adoption) -> None:
    """Fields that have to be written stand before those that the specification fills."""
    page = read(client, "metal_movement/")
    names = re.findall(r'<input type="text" name="(\w+)"', page)

    assert names == ["expansion", "temperature_change", "metal_length"]
    assert value_of(page, "metal_length") == "10 ft"


def test_it_lists_what_is_to_be_mended_before_the_fields(client: Client, adoption: Adoption) -> None:
    """On a phone the faulty field may be far down: each is named at the top, with a way to it."""
    page = read(client, "cartridges/", edge="86 ft", beads="2.5", waste="1")
    listed = re.findall(r'<li><a href="#(\w+)">(.*?)</a>', page)

    assert "2 numbers are to be mended" in page
    assert listed == [("div_id_beads", "Beads"), ("div_id_waste", "Waste")]
    assert all(f'id="{place}"' in page for place, _ in listed)
    assert "to be mended" not in read(client, "cartridges/")
    assert "one number is to be mended" in read(client, "cartridges/", edge="86 ft", beads="2.5")


def test_it_lets_a_worked_number_follow_the_one_it_comes_from(client: Client, adoption: Adoption) -> None:
    """A narrower roll makes a narrower first course, unless another width was written."""
    opened = {"run": "24 ft", "starter_width": value_of(read(client, "course_count/"), "starter_width")}
    page = read(client, "course_count/", **opened, roll_width="36 in")
    own = read(client, "course_count/", run="24 ft", roll_width="36 in", starter_width="20 in")

    assert value_of(page, "starter_width") == "2 ft"
    assert "Worked out from the specification." in field(page, "starter_width")
    assert value_of(own, "starter_width") == "20 in"
    assert "Yours. From the specification it works out to 2 ft." in field(own, "starter_width")


# ---------------------------------------------------------------------------------------------------- what is answered
@pytest.mark.parametrize(
    ("rule", "given", "says", "other"),
    [
        ("cap_restart", {"run": "24 ft 6 in"}, "The cap sheet never has to be re-started.", "would come too near"),
        ("cap_restart", {"run": "60 ft"}, "would come too near to a lap of the base sheet", "never has to be"),
        ("lap_shortfall", {"lap": "4 in", "limit": "4 in"}, "The lap is wide enough.", ""),
        ("fall_clearance_left", {"clear_height": "10 ft", "fall_clearance": "12 ft"}, "A fall would end on what", ""),
    ],
)
def test_it_says_what_an_answer_means(
    client: Client, adoption: Adoption, rule: str, given: dict[str, str], says: str, other: str
) -> None:
    """A 0 or a minus is put into words, and only where it stands."""
    page = read(client, f"{rule}/", **given)

    assert says in page
    assert not other or other not in page


def test_it_says_rounded_up_only_of_what_was(client: Client, adoption: Adoption) -> None:
    """Rows of panels are rounded one by one, so their product is not the area's share rounded up."""
    panels = {"run": "24 ft 6 in", "eave": "51 ft 3 in", "panel_length": "8 ft", "panel_width": "4 ft"}
    page, courses = read(client, "panels_for_deck/", **panels), read(client, "course_count/", run="24 ft 6 in")

    assert answer(page) == "49"
    assert ", rounded up</p>" not in page
    assert "8.63, rounded up</p>" in courses


@pytest.mark.parametrize(
    ("rule", "given", "large", "small"),
    [
        ("net_area", {"run": "25 ft", "eave": "50 ft"}, "1,250 ft²", "12.5 squares · 116.13 m²"),
        ("waste_share", {"gross_area": "1400 ft2", "net_area": "1250 ft2"}, "10.71%", ""),
        ("slope_percent", {"slope": "3/16 in per ft"}, "1.56%", ""),
        ("gauge_thickness", {"gauge": "24"}, "0.0239 in", "0.607 mm"),
        ("slope_from_fall", {"fall": "6 in", "run": "24 ft"}, "1/4 in per ft", "2.08%"),
    ],
)
def test_it_answers_in_the_units_of_the_roof(
    client: Client, rule: str, given: dict[str, str], large: str, small: str
) -> None:
    """Areas in squares too, shares in percent, slopes as the tape shows them."""
    page = read(client, f"{rule}/", **given)

    assert answer(page) == large
    assert not small or f'<p class="small">{small}</p>' in page


def test_it_has_an_example_beside_each_field_that_a_tape_does_not_explain(client: Client) -> None:
    """Whoever opens a rule sees how weights, times, slopes and lists are written, but for what only others can say."""
    faults = []
    for name, rule in REGISTRY.items():
        page = read(client, f"{name}/")
        asked = [item for item in rule.inputs if item.required and item.dimension is not FLAG]
        own = [item for item in asked if giver(item.name) is None]
        odd = [item for item in own if item.dimension is LENGTHS or item.dimension.name in {"mass", "time", "slope"}]
        faults += [f"{name}.{item.name}" for item in odd if not re.search(r"Such as|Several", field(page, item.name))]

    assert not faults


def test_it_cautions_by_federal_rules_only_where_a_number_comes_from_them(client: Client) -> None:
    """A sum by definition guards a life too, but no federal edition says it."""
    federal, sum_ = read(client, "ladder_foot_out/"), read(client, "fall_clearance_left/")

    assert "Roof work kills." in federal
    assert "one edition of US federal construction rules" in federal
    assert "Roof work kills." in sum_
    assert "one edition of US federal" not in sum_


def test_it_says_each_caution_once() -> None:
    """No sentence stands twice, and a number that guards a life never stands without one."""
    said = {name: cautions_for(rule) for name, rule in REGISTRY.items()}
    twice = [
        name for name, texts in said.items() for one in texts if sum(one[:40] in other for other in texts) > 1
    ]  # fmt: skip
    guarded = {"safety", "weather", "inspection", "fastening"}

    assert not twice
    assert not [name for name, texts in said.items() if REGISTRY[name].topic in guarded and not texts]
    assert said["ladder_foot_accepted"][1].startswith("Length and angle are two things of many.")


def test_it_calls_a_document_only_what_can_be_opened(client: Client) -> None:
    """Common practice and definitions are a basis, not a document with clauses."""

    def facts(name: str) -> dict[str, str]:
        source = read(client, f"{name}/").partition("<h2>Source</h2>")[2]
        return dict(re.findall(r"<dt>(.*?)</dt><dd(?: lang=\"\w+\")?>(.*?)</dd>", source))

    assert facts("net_area") == {"Basis": "definition", "In detail": "geometry", "Edition of this rule": "1"}
    assert facts("free_fall")["Document"].startswith("29 CFR 1926")
