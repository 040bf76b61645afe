"""Fill in a sheet's form as a browser would: from the page alone, or with a response made elsewhere."""

from html.parser import HTMLParser
from typing import Any


class _Form(HTMLParser):
    """Gather the fields of the page's sheet form, with what stands in them."""

    def __init__(self) -> None:
        super().__init__()
        self.inside = False
        self.fields: dict[str, list[str]] = {}
        self.names: set[str] = set()
        self.choices: dict[str, list[str]] = {}
        self._select = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note each field."""
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.inside = "sheet-form" in given.get("class", "")
        if not self.inside:
            return
        name = given.get("name", "")
        if tag == "input":
            self._input(name, given)
        elif tag == "select":
            self._select = name
            self.names.add(name)
        elif tag == "option" and self._select:
            self.choices.setdefault(self._select, []).append(given.get("value", ""))
            if "selected" in given:
                self.fields[self._select] = [given["value"]]

    def handle_endtag(self, tag: str) -> None:
        """Leave the form."""
        if tag == "form":
            self.inside = False

    def _input(self, name: str, given: dict[str, str]) -> None:
        self.names.add(name)
        kind = given.get("type", "text")
        if kind in ("radio", "checkbox"):
            self.choices.setdefault(name, []).append(given["value"])
            if "checked" in given:
                self.fields.setdefault(name, []).append(given["value"])
        elif given.get("value"):
            self.fields[name] = [given["value"]]


def form_of(html: str) -> _Form:
    """Read the sheet's form from a page."""
    form = _Form()
    form.feed(html)
    return form


def sent(html: str, response: dict[str, Any], go: str = "next") -> dict[str, Any]:
    """Give what a browser sends when the response is entered in the form of the page."""
    form = form_of(html)
    data: dict[str, Any] = {name: form.fields[name] for name in ("csrfmiddlewaretoken", "send") if name in form.fields}
    data["go"] = go
    if "order" in response:
        for place, step in enumerate(response["order"], start=1):
            data[f"place-{step}"] = str(place)
        return data
    return {**data, **response}
