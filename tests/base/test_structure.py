"""How the project is built: relations point downward, and views reach rows only through queries and services."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.apps import apps
from django.db.models import ForeignKey, ManyToManyField, OneToOneField

ROOT = Path(__file__).resolve().parents[2]
RANK = {
    "base": 0,
    "people": 1,
    "library": 2,
    "jobs": 3,
    "training": 4,
    "exams": 4,
    "handson": 4,
    "records": 5,
    "audit": 6,
    "home": 7,
}
OURS = sorted(config.label for config in apps.get_app_configs() if config.name.startswith("trainer."))
MANAGERS = {"objects", "_default_manager", "_base_manager"}
SHORTCUTS = {"get_object_or_404", "get_list_or_404", "aget_object_or_404", "aget_list_or_404"}


def relations() -> Iterator[tuple[str, str, str]]:
    """Give each relation of our models: the field, the app that it is in, the app that it points to."""
    for label in OURS:
        for model in apps.get_app_config(label).get_models():
            for field in model._meta.get_fields():
                if isinstance(field, ForeignKey | OneToOneField | ManyToManyField):
                    yield f"{model._meta.label}.{field.name}", label, field.related_model._meta.app_label


def test_it_ranks_every_app() -> None:
    """A new app must say where it stands."""
    assert set(OURS) <= set(RANK)


def test_it_points_relations_downward() -> None:
    """A model relates to its own app's models and to those of apps below, never beside or above."""
    found = list(relations())
    wrong = [field for field, here, there in found if here != there and RANK.get(there, 99) >= RANK[here]]

    assert len(found) > 10
    assert wrong == []


def is_shortcut_to_a_model(node: ast.expr) -> bool:
    """Tell whether Django's shortcut is handed a whole model; a query's result may be narrowed with it."""
    return (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in SHORTCUTS
        and isinstance(node.args[0], ast.Name)
        and node.args[0].id[:1].isupper()
    )


def reaches_for_rows(source: str) -> list[int]:
    """Give the lines of a view module that go to rows by themselves."""
    lines = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.expr):
            continue
        by_manager = isinstance(node, ast.Attribute) and node.attr in MANAGERS
        by_shortcut = is_shortcut_to_a_model(node)
        by_related = isinstance(node, ast.Attribute) and node.attr.endswith("_set") and node.attr != "role_set"
        by_cursor = isinstance(node, ast.Attribute) and node.attr == "cursor"
        if by_manager or by_shortcut or by_related or by_cursor:
            lines.append(node.lineno)
    return lines


def view_files() -> list[Path]:
    """Give every module that holds views."""
    trainer = ROOT / "trainer"
    return sorted([*trainer.glob("*/views.py"), *trainer.glob("*/views/*.py")])


@pytest.mark.parametrize("path", view_files(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_it_keeps_views_from_rows(path: Path) -> None:
    """Views fetch through `queries`, which keep to what the member may see, and change through `services`."""
    assert reaches_for_rows(path.read_text()) == []


@pytest.mark.parametrize(
    "source",
    [
        "Account.objects.get(pk=1)",
        "Account._default_manager.all()",
        "get_object_or_404(Account, pk=1)",
        "company.membership_set.all()",
        "connection.cursor()",
    ],
)
def test_it_would_notice_a_view_that_reaches_for_rows(source: str) -> None:
    """The test above can fail."""
    assert reaches_for_rows(f"x = 1\ny = {source}") == [2]
