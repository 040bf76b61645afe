"""The menu: each app adds its entries when it starts; a page shows those of the roles that its member holds."""

from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.functional import Promise


@dataclass(frozen=True)
class Entry:
    """One line of the menu: for these roles, at this place, leading to the address of this name.

    `in_company` is for staff addresses, which take the company's slug.
    """

    place: int
    label: str | Promise
    url_name: str
    roles: frozenset[str]
    in_company: bool


_entries: list[Entry] = []


def add(place: int, label: str | Promise, url_name: str, *roles: str, in_company: bool) -> None:
    """Add a line for the roles; a lower place stands further left."""
    _entries.append(Entry(place, label, url_name, frozenset(roles), in_company))


def menu_for(member: Any, path: str) -> list[dict[str, Any]]:
    """Give the lines for a member as `{label, url, here}`, in order."""
    lines = []
    for entry in sorted(_entries, key=lambda entry: entry.place):
        if entry.roles & member.roles:
            url = reverse(entry.url_name, kwargs={"company": member.company.slug} if entry.in_company else {})
            lines.append({"label": entry.label, "url": url, "here": path == url})
    return lines
