"""A real server on a freshly built demo, Debian's Chromium, and an oracle that knows the right answers."""

import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

ROOT = Path(__file__).resolve().parent.parent.parent
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}


@dataclass
class Site:
    """The served demo: its address, sign-ins, and the environment that reaches its database."""

    origin: str
    password: str
    cards: dict[str, str]
    environment: dict[str, str]
    browser: Browser
    contexts: list[BrowserContext] = field(default_factory=list)

    def visitor(self, *, size: dict[str, int] = DESK, language: str = "en-US", script: bool = True) -> Page:
        """Open a fresh browser profile; what its console says against the page fails the test at the end."""
        context = self.browser.new_context(
            viewport=size,  # type: ignore[arg-type]
            locale=language,
            base_url=self.origin,
            java_script_enabled=script,
            has_touch=size is PHONE,
            accept_downloads=True,
        )
        context.set_default_timeout(15_000)
        self.contexts.append(context)
        page = context.new_page()
        page.complaints = []  # type: ignore[attr-defined]
        page.on("console", lambda message: self._note(page, message))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))  # type: ignore[attr-defined]
        return page

    @staticmethod
    def _note(page: Page, message: Any) -> None:
        not_found = "404" in message.text  # a page that says "not found" is said so in the console too
        if message.type in ("error", "warning") and not not_found:
            page.complaints.append(message.text)  # type: ignore[attr-defined]

    def sign_in(self, email: str, **options: Any) -> Page:
        """Sign staff in through the sign-in page."""
        page = self.visitor(**options)
        page.goto("/account/login/")
        page.locator("input[name=login]").fill(email)
        page.locator("input[name=password]").fill(self.password)
        page.locator("main form button").first.click()
        page.wait_for_url(lambda url: "/account/login/" not in url)
        return page

    def open_card(self, name: str, **options: Any) -> Page:
        """Open a trainee's card link and use it up; give the signed-in page."""
        page = self.visitor(**options)
        page.goto(self.cards.pop(name))
        page.locator("main form button").first.click()
        page.wait_for_url("**/today/")
        return page

    def ask(self, *question: str) -> Any:
        """Ask the oracle, which reads the server's database."""
        done = subprocess.run(
            [sys.executable, str(ROOT / "tests" / "browser" / "oracle.py"), *question],
            env=self.environment,
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    def close(self) -> None:
        """Close every profile that a test opened."""
        for context in self.contexts:
            context.close()
        self.contexts.clear()


def free_port() -> int:
    """Give a port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def wait_for(url: str, server: "subprocess.Popen[bytes]") -> None:
    """Wait until the server answers."""
    for _attempt in range(300):
        assert server.poll() is None, "the server stopped while starting"
        try:
            urllib.request.urlopen(url, timeout=5)
        except urllib.error.URLError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError("the server did not answer within 30 seconds")


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """Build the demo in a folder of its own, serve it, and open the browser."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    assert chromium, "the browser tests need Chromium on the path (Debian's package chromium)"
    port = free_port()
    environment = {
        **{key: value for key, value in os.environ.items() if not key.startswith(("TRAINER_", "DATABASE_", "DJANGO_"))},
        "TRAINER_MODE": "demo",
        "TRAINER_DATA": str(tmp_path_factory.mktemp("demo")),
        "TRAINER_ORIGIN": f"http://127.0.0.1:{port}",
    }
    manage = [sys.executable, str(ROOT / "manage.py"), "demo"]
    built = subprocess.run(
        [*manage, "--no-serve"], env=environment, cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert built.returncode == 0, built.stdout + built.stderr
    password = re.search(r"with the password (\S+)", built.stdout)
    assert password is not None, built.stdout
    cards = dict(re.findall(r"^  (.+?) {2,}(http\S+/card/\S+)$", built.stdout, re.MULTILINE))
    log = Path(environment["TRAINER_DATA"]) / "server.log"
    with log.open("wb") as output:
        server = subprocess.Popen(
            [*manage, "--port", str(port)], env=environment, cwd=ROOT, stdout=output, stderr=subprocess.STDOUT
        )
        try:
            wait_for(f"http://127.0.0.1:{port}/", server)
            with sync_playwright() as play:
                browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
                yield Site(f"http://127.0.0.1:{port}", password[1], cards, environment, browser)
                browser.close()
        finally:
            server.terminate()
            server.wait(timeout=20)
    assert "Traceback" not in log.read_text(), log.read_text()[-3000:]


@pytest.fixture
def site(served: Site) -> Iterator[Site]:
    """Give the served demo; profiles opened by the test are closed after it."""
    yield served
    complaints = [
        f"{page.url}: {text}"
        for context in served.contexts
        for page in context.pages
        for text in getattr(page, "complaints", [])
    ]
    served.close()
    assert not complaints, complaints


@pytest.fixture
def picture(request: pytest.FixtureRequest) -> Callable[[Page, str], None]:
    """Give a function that keeps a screenshot where TRAINER_PICTURES names a folder, to be looked at."""
    folder = os.environ.get("TRAINER_PICTURES")

    def keep(page: Page, name: str) -> None:
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            page.screenshot(path=str(Path(folder) / f"{name}.png"), full_page=True)

    return keep
