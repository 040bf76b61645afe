"""The written table of who gets in where, and the addresses that the site really has."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver

from trainer.people.models import Role

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class Entry:
    """One address of the table."""

    name: str
    file: str
    roles: frozenset[str] = frozenset()
    methods: tuple[str, ...] = ("get",)
    args: dict[str, str] = field(default_factory=dict)
    data: dict[str, Any] = field(default_factory=dict)
    public: bool = False
    private: bool = False
    shared: bool = False


@dataclass(frozen=True)
class Address:
    """One address of the site: its parts that change, and the view behind it."""

    name: str
    parts: frozenset[str]
    view: Any


def read_table() -> dict[str, Entry]:
    """Read every app's table.

    Raises:
        ValueError: An entry has an unknown key or role, or stands twice; says where.
    """
    found: dict[str, Entry] = {}
    for path in sorted(FOLDER.glob("*.toml")):
        for name, raw in tomllib.loads(path.read_text()).items():
            unknown = set(raw) - {"roles", "methods", "args", "data", "public", "private", "shared"}
            strange = set(raw.get("roles", [])) - set(Role.values)
            if unknown or strange or name in found:
                raise ValueError(f"{path.name}: [{name}] has {unknown or strange or 'stood before'}")
            cleaned = {**raw, "roles": frozenset(raw.get("roles", [])), "methods": tuple(raw.get("methods", ["get"]))}
            found[name] = Entry(name=name, file=path.name, **cleaned)
    return found


def addresses() -> dict[str, Address]:
    """Give every address of the site by its name; one without a name is listed by its pattern."""
    return {address.name: address for address in _walk(get_resolver().url_patterns, "", frozenset())}


def _walk(patterns: list[URLPattern | URLResolver], before: str, parts: frozenset[str]) -> Iterator[Address]:
    for pattern in patterns:
        here = f"{before}{pattern.pattern}"
        inside = parts | frozenset(pattern.pattern.converters)
        if isinstance(pattern, URLResolver):
            yield from _walk(pattern.url_patterns, here, inside)
        else:
            yield Address(pattern.name or here, inside, pattern.callback)
