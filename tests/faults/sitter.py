"""Somebody who sits exams over HTTP and tries again whenever the line breaks, and keeps what was acknowledged."""

import random
import re
import time
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException
from threading import Event
from typing import Any
from urllib.parse import urlencode

from tests.exams.filling import sent

TRIES_FOR_SECONDS = 120


@dataclass
class Reply:
    """What the server said."""

    status: int
    location: str
    text: str


@dataclass
class Acknowledged:
    """An answer that the server said it saved."""

    sitting: str
    number: int
    send: str
    data: dict[str, Any]


@dataclass
class Counts:
    """How a sitter fared."""

    requests: int = 0
    refused: int = 0  # requests that found no server, each tried again
    cut: int = 0  # requests that were sent and got no answer: done or not, nobody knows; each tried again
    server_errors: int = 0  # answers of 500 and above, each tried again and reported
    sittings: list[str] = field(default_factory=list)
    ended: list[str] = field(default_factory=list)
    answers: list[Acknowledged] = field(default_factory=list)


class Sitter:
    """One person with a phone: a session cookie, and patience."""

    def __init__(self, *, port: int, session: str, seed: int) -> None:
        self.port = port
        self.cookies = {"sessionid": session}
        self.random = random.Random(seed)
        self.counts = Counts()

    def ask(self, method: str, path: str, data: dict[str, Any] | None = None) -> Reply:
        """Send a request, again and again until it is answered: a send that broke may or may not have been saved."""
        end = time.monotonic() + TRIES_FOR_SECONDS
        while time.monotonic() < end:
            self.counts.requests += 1
            try:
                reply = self._once(method, path, data)
            except ConnectionRefusedError:
                self.counts.refused += 1
                time.sleep(0.05)
                continue
            except (OSError, HTTPException):
                self.counts.cut += 1
                time.sleep(0.05)
                continue
            if reply.status < 500:
                return reply
            self.counts.server_errors += 1
            time.sleep(0.05)
        raise AssertionError(f"{method} {path} was not answered within {TRIES_FOR_SECONDS} seconds")

    def _once(self, method: str, path: str, data: dict[str, Any] | None) -> Reply:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
            if data is not None:
                headers["Content-Type"] = "application/x-www-form-urlencoded"
            connection.request(method, path, None if data is None else urlencode(data, doseq=True), headers)
            response = connection.getresponse()
            text = response.read().decode()
            for line in response.headers.get_all("Set-Cookie") or []:
                name, _equals, value = line.partition(";")[0].partition("=")
                self.cookies[name] = value
            return Reply(response.status, response.headers.get("Location", ""), text)
        finally:
            connection.close()

    def sit(self, module: str, *, stop: Event) -> None:
        """Sit one exam after another until told to stop; the last one is ended too."""
        while not stop.is_set():
            self._one_sitting(module, stop)

    def _one_sitting(self, module: str, stop: Event) -> None:
        start = f"/exams/{module}/start/"
        form = self.ask("GET", start)
        begun = self.ask("POST", start, {"csrfmiddlewaretoken": _token(form.text), "language": "en-us"})
        found = re.fullmatch(r"/sittings/([0-9a-f-]{36})/questions/\d+/", begun.location)
        assert found is not None, f"the start answered {begun.status} {begun.location}\n{_said(begun.text)}"
        ref = found[1]
        if ref not in self.counts.sittings:
            self.counts.sittings.append(ref)
        first = self.ask("GET", f"/sittings/{ref}/questions/1/")
        of = int(re.search(r"<h1>\s*Question 1 of (\d+)", first.text)[1])  # type: ignore[index]
        for number in range(1, of + 1):
            for _change in range(self.random.randint(1, 3)):
                self._answer(ref, number)
            if stop.is_set():
                break
        table = f"/sittings/{ref}/"
        page = self.ask("GET", table)
        ended = self.ask("POST", table, {"csrfmiddlewaretoken": _token(page.text)})
        assert ended.location == f"/sittings/{ref}/result/", f"the end answered {ended.status}\n{_said(ended.text)}"
        self.counts.ended.append(ref)

    def _answer(self, ref: str, number: int) -> None:
        """Answer one sheet with something new, from its own form."""
        path = f"/sittings/{ref}/questions/{number}/"
        page = self.ask("GET", path)
        data = sent(page.text, self._entry(page.text))
        reply = self.ask("POST", path, data)
        assert reply.status == 302, f"the answer got {reply.status}\n{_said(reply.text)}"
        assert reply.location.startswith(f"/sittings/{ref}/"), reply.location
        self.counts.answers.append(Acknowledged(ref, number, data["send"][0], data))

    def _entry(self, html: str) -> dict[str, Any]:
        """Make up an entry that the sheet did not hold before, for whatever kind of question it is."""
        places = sorted(set(re.findall(r'name="(place-[^"]+)"', html)))
        if places:
            numbers = [str(number) for number in range(1, len(places) + 1)]
            self.random.shuffle(numbers)
            return dict(zip(places, numbers, strict=True))
        rows = re.findall(r'name="rows" value="([^"]+)"', html)
        if rows:
            return {"rows": [self.random.choice(rows)]}
        readings = re.findall(r'name="reading" value="([^"]+)"', html)
        if readings:
            return {"decision": "reject", "reading": self.random.choice(readings)}
        return {"text": str(self.random.randint(1, 99_999))}


def _token(html: str) -> str:
    found = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', html)
    assert found is not None, f"no form on the page:\n{_said(html)}"
    return found[1]


def _said(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))[:600]
