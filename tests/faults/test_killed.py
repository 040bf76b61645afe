"""The server is killed again and again while twenty people sit: nothing acknowledged is lost, nothing happens twice.

Environment: `TRAINER_KILLS` how often (50), `TRAINER_SITTERS` how many sit (20), `TRAINER_FAULT_SEED` for the moments;
with `DATABASE_URL` of a PostgreSQL server the same on a new database there, else on a SQLite file.
"""

import json
import os
import random
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path
from threading import Event
from typing import Any

import pytest

from tests.faults.server import Site, database_for
from tests.faults.sitter import Sitter

KILLS = int(os.environ.get("TRAINER_KILLS", "50"))
SITTERS = int(os.environ.get("TRAINER_SITTERS", "20"))
SEED = int(os.environ.get("TRAINER_FAULT_SEED", "20"))
AT_WORK = 10  # answers acknowledged between two kills, so that each one falls among sends
NO_LONGER_THAN = 30  # seconds to wait for that


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    """Give the program on an empty database of its own, not yet started."""
    url = os.environ.get("DATABASE_URL", "")
    with database_for(tmp_path, url if url.startswith("postgres") else None) as database_url:
        site = Site(tmp_path, database_url)
        yield site
        if site.process is not None:
            site.kill()


def kill_often(site: Site, sitters: list[Sitter], stop: Event, working: list[bool]) -> int:
    """Kill and restart the server while the sitters send; give how many kills cut a request off."""
    moments = random.Random(SEED)
    amid = 0
    for _kill in range(KILLS):
        before, end = _acknowledged(sitters), time.monotonic() + NO_LONGER_THAN
        while _acknowledged(sitters) < before + AT_WORK and time.monotonic() < end and not stop.is_set():
            time.sleep(0.01)
        time.sleep(moments.uniform(0, 0.25))
        cut = _total(sitters, "cut")
        site.kill()
        time.sleep(0.1)
        amid += _total(sitters, "cut") > cut
        site.start()
        if not all(working):
            break
    return amid


def _total(sitters: list[Sitter], count: str) -> int:
    return sum(getattr(sitter.counts, count) for sitter in sitters)


def _acknowledged(sitters: list[Sitter]) -> int:
    return sum(len(sitter.counts.answers) for sitter in sitters)


def test_it_loses_nothing_when_the_server_is_killed(site: Site, capsys: pytest.CaptureFixture[str]) -> None:
    """Every acknowledged answer is there and stands, every ended sitting has one score, every pass one record."""
    seeded = json.loads(site.run("tests/faults/seed.py", str(SITTERS)))
    site.start()
    sitters = [
        Sitter(port=site.port, session=session, seed=SEED + number) for number, session in enumerate(seeded["sessions"])
    ]
    stop, began, working = Event(), time.monotonic(), [True]
    with ThreadPoolExecutor(SITTERS) as pool:
        running = [pool.submit(sitter.sit, seeded["module"], stop=stop) for sitter in sitters]
        for one in running:
            one.add_done_callback(lambda done: working.append(stop.is_set() or done.exception() is None))
        try:
            amid = kill_often(site, sitters, stop, working)
        finally:
            stop.set()
        for one in running:
            one.result(timeout=240)
    seconds = time.monotonic() - began
    said = {
        "answers": [asdict(answer) for sitter in sitters for answer in sitter.counts.answers],
        "sittings": [ref for sitter in sitters for ref in sitter.counts.sittings],
        "ended": [ref for sitter in sitters for ref in sitter.counts.ended],
    }
    checked = json.loads(site.run("tests/faults/check.py", text=json.dumps(said)))
    register = json.loads(site.run("manage.py", "verify_register", "--json"))
    site.run("manage.py", "due")
    with capsys.disabled():
        print(f"\n{_report(site, sitters, said, checked, amid, seconds)}")

    assert checked["problems"] == []
    assert register["problems"] == []
    assert sum(company["entries"] for company in register["companies"]) >= checked["counts"]["records"]
    assert site.starts == KILLS + 1
    assert _total(sitters, "server_errors") == 0
    assert len(said["ended"]) == checked["counts"]["scored"] > SITTERS / 2
    assert amid > KILLS / 2


def _report(site: Site, sitters: list[Sitter], said: Any, checked: Any, amid: int, seconds: float) -> str:
    """Give the counts of a run."""
    there = checked["counts"]
    return (
        f"{site.database_url.split(':')[0]}: {len(sitters)} people, {KILLS} kills in {seconds:.0f} s,"
        f" {amid} of them cut requests off\n"
        f"{_total(sitters, 'requests')} requests: {_total(sitters, 'cut')} cut off and sent again,"
        f" {_total(sitters, 'refused')} found no server, {_total(sitters, 'server_errors')} server errors\n"
        f"{len(said['answers'])} answers acknowledged, {there['answer_rows']} rows,"
        f" {len(checked['problems'])} lost or twice\n"
        f"{there['sittings']} sittings, {there['scored']} scored,"
        f" {there['passed']} passed, {there['records']} records"
    )
