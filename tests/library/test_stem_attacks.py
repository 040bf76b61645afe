"""Whatever stem, rows and mistakes hold, a page shows it as text, and template code is refused."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from django.test import Client

from tests.library.folder import SLUG
from trainer.library import queries, services
from trainer.people.access import Member

pytestmark = pytest.mark.django_db
ATTACKS = {
    "script": "<script>alert(1)</script>",
    "image": "<img src=https://evil.example/a.png onerror=alert(1)>",
    "style": "<style>body{display:none}</style>",
    "frame": "<iframe src=https://evil.example></iframe>",
    "SVG with references": "<svg onload=alert(1)><use href=https://evil.example/x.svg#a /></svg>",
    "attribute break-out": "'><b onclick=alert(1)>",
    "link": "[x](javascript:alert(1))",
    "template code": "{% raw %}",
}


def _with(folder: Path, attack: str) -> None:
    """Write the attack into the stem and a row of the choice, in both languages."""
    path = folder / SLUG / "questions" / "short-lap.toml"
    text = path.read_text()
    assert "What do you do?" in text
    text = text.replace("What do you do?", f"What do you do? {attack}").replace("¿Qué hace?", f"¿Qué hace? {attack}")
    text = text.replace('"Nail it down."', f'"Nail it down. {attack}"').replace('"Lo clava."', f'"Lo clava. {attack}"')
    path.write_text(text)


@pytest.mark.parametrize("attack", ATTACKS.values(), ids=ATTACKS)
@pytest.mark.parametrize("language", ["en", "es"])
def test_it_shows_an_attack_as_text(
    attack: str, language: str, folder: Path, db: None, trainer: Member, sign_in: Callable[[Member], Client],
    adopted_after_load: Callable[[], None],
) -> None:  # fmt: skip
    """The page has no tag, handler or address of the attack; its words stand there to be read."""
    _with(folder, attack)
    services.load_lessons(folder=folder)
    adopted_after_load()

    found = ""
    for seed in range(6):
        address = f"/c/own/modules/{SLUG}/questions/short-lap/"
        found += sign_in(trainer).get(address, {"language": language, "seed": str(seed)}).content.decode()

    tags = re.findall(r"<[^>]*>", found)
    assert not [tag for tag in tags if "evil.example" in tag or "alert(1)" in tag]
    assert "<iframe" not in found
    assert "display:none" not in "".join(re.findall(r"<style.*?</style>", found, re.DOTALL))
    assert found.count("¿Qué hace?" if language == "es" else "What do you do?") >= 6


def test_it_refuses_template_code_in_a_stem(folder: Path, db: None) -> None:
    """Braces hold names and nothing else: no filter, no call, no attribute."""
    for code in ("{{ lap|safe }}", "{{ lap.__class__ }}", "{{ lap() }}", "{{ settings.SECRET_KEY }}"):
        path = folder / SLUG / "questions" / "short-lap.toml"
        text = path.read_text()
        path.write_text(text.replace("What do you do?", f"What do you do? {code}"))
        with pytest.raises(services.ContentError):
            services.load_lessons(folder=folder)
        path.write_text(text)
    assert queries.current_module(SLUG) is None
