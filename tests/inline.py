"""What the content security policy would refuse in a page: script and style that stand in the page itself."""

from html.parser import HTMLParser


class Parts(HTMLParser):
    """Collect what a page must not hold: inline script and style, handlers, and scripts of other sites."""

    def __init__(self) -> None:
        super().__init__()
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Look at one element."""
        own = dict(attrs)
        runs = tag == "script" and own.get("type") != "application/json"
        if runs and not str(own.get("src") or "").startswith("/static/"):
            self.wrong.append(f"<script> without a file of ours: {own}")
        if tag == "style" or "style" in own:
            self.wrong.append(f"inline style in <{tag}>")
        self.wrong += [f"{name} in <{tag}>" for name in own if name.startswith("on")]


def inline_parts(html: str) -> list[str]:
    """List what a page holds that `default-src 'self'` refuses."""
    parts = Parts()
    parts.feed(html)
    return parts.wrong
