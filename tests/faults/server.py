"""The program's own server on a database of its own, to be killed and started again."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit

ROOT = Path(__file__).resolve().parent.parent.parent
START_SECONDS = 60


def free_port() -> int:
    """Give a port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def database_for(folder: Path, url: str | None) -> Iterator[str]:
    """Give the address of an empty database: a file, or a new database on the PostgreSQL server at `url`."""
    if not url:
        yield f"sqlite:///{folder / 'faults.sqlite3'}"
        return
    import psycopg

    name = f"faults_{os.getpid()}"
    with psycopg.connect(url, autocommit=True) as admin:
        admin.execute(f'CREATE DATABASE "{name}"')
    try:
        yield urlunsplit(urlsplit(url)._replace(path=f"/{name}"))
    finally:
        with psycopg.connect(url, autocommit=True) as admin:
            admin.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


@dataclass
class Site:
    """Where the program keeps its data and listens, and the server process while it runs."""

    folder: Path
    database_url: str
    port: int = field(default_factory=free_port)
    starts: int = 0
    process: "subprocess.Popen[bytes] | None" = None

    @property
    def environment(self) -> dict[str, str]:
        """The environment of the server and of every command on its database."""
        kept = {key: value for key, value in os.environ.items() if not key.startswith(("TRAINER_", "DJANGO_"))}
        return {
            **kept,
            "TRAINER_MODE": "demo",
            "TRAINER_DATA": str(self.folder),
            "DATABASE_URL": self.database_url,
            "DJANGO_SETTINGS_MODULE": "trainer.settings",
            "PYTHONPATH": str(ROOT),
        }

    @property
    def log(self) -> Path:
        """What the servers said."""
        return self.folder / "server.log"

    def run(self, *arguments: str, text: str = "") -> str:
        """Run a Python program on the site's database; give what it printed.

        Raises:
            AssertionError: It failed; shows what it said.
        """
        done = subprocess.run(
            [sys.executable, *arguments],
            env=self.environment, cwd=ROOT, input=text, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, f"{arguments} failed:\n{done.stdout}\n{done.stderr}"
        return done.stdout

    def start(self) -> None:
        """Start the server and wait until it answers."""
        command = ["-m", "granian", "--interface", "wsgi", "--workers", "1", "--no-ws"]
        address = ["--host", "127.0.0.1", "--port", str(self.port), "trainer.wsgi:application"]
        with self.log.open("ab") as output:
            self.process = subprocess.Popen(
                [sys.executable, *command, *address],
                env=self.environment, cwd=ROOT, stdout=output, stderr=subprocess.STDOUT, start_new_session=True,
            )  # fmt: skip
        self.starts += 1
        end = time.monotonic() + START_SECONDS
        while time.monotonic() < end:
            assert self.process.poll() is None, f"the server stopped while starting:\n{self.log.read_text()[-2000:]}"
            if self._answers():
                return
            time.sleep(0.05)
        raise AssertionError(f"the server did not answer within {START_SECONDS} seconds")

    def _answers(self) -> bool:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=5)
        try:
            connection.request("GET", "/account/login/")
            return connection.getresponse().status == 200
        except (OSError, HTTPException):
            return False
        finally:
            connection.close()

    def kill(self) -> None:
        """Kill the server and its workers at once, with no chance to finish anything."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        assert self.process.wait(timeout=20) == -signal.SIGKILL, "the server ended before it was killed"
        self.process = None
