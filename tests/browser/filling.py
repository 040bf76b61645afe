"""Fill the fields of an answer as a person would."""

from typing import Any

from playwright.sync_api import Page


def fill(page: Page, response: dict[str, Any]) -> None:
    """Enter a response: typed text, rows, places, a part, or a decision with the reading that fails."""
    for name in ("text",):
        if name in response:
            page.locator(f"input[name={name}]").fill(response[name])
    for row in response.get("rows", []):
        page.locator(f'input[name=rows][value="{row}"]').check()
    for place, step in enumerate(response.get("order", []), start=1):
        page.locator(f'[name="place-{step}"]').select_option(str(place))
    if "part" in response:
        page.locator(f'input[name=part][value="{response["part"]}"]').check()
    if "decision" in response:
        page.locator(f'input[name=decision][value="{response["decision"]}"]').check()
    if "reading" in response:
        page.locator(f'input[name=reading][value="{response["reading"]}"]').check()
