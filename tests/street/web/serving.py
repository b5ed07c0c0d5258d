"""The bench as a program of its own, which can be killed; and a client that fills in its forms."""

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx

SOURCE = Path(__file__).resolve().parents[3] / "src"
START = "import sys; from etchbook.cli import main; sys.argv[0] = 'etchbook'; main()"
NO_DECODING = """
import etchbook.files.photos, PIL.Image
def never(*words, **more):
    raise RuntimeError("a photograph was opened in the process that answers pages")
PIL.Image.open = never
for room in (etchbook.files, etchbook.files.photos):
    for name in ("load_photo", "picture_from", "_opened", "_decode"):
        if hasattr(room, name):
            setattr(room, name, never)
"""
"""Makes a bench fail where it decodes a photograph itself; the processes that it starts are not touched by it."""
OVER = ("done", "refused", "stopped", "interrupted")


@dataclass
class Served:
    """A bench that was started with words of the command line."""

    folder: Path
    words: tuple[str, ...] = ()
    before: str = ""
    process: Any = None
    lines: list[str] = field(default_factory=list)
    address: str = ""

    def start(self) -> None:
        words = ("serve", "--book", str(self.folder), "--port", "0", "--no-open", *self.words)
        self.process = subprocess.Popen(
            [sys.executable, "-c", self.before + START, *words],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": str(SOURCE), "ETCHBOOK_BY": "tester",
                 "XDG_CONFIG_HOME": str(self.folder.parent / "settings")},
        )  # fmt: skip
        self.lines = [self.process.stdout.readline()]
        found = re.search(r"http://127\.0\.0\.1:\d+", self.lines[0])
        assert found, self.lines
        self.address = found[0]

    def until(self, words: str) -> str:
        """The first line with these words in it."""
        for line in self.process.stdout:
            self.lines.append(line)
            if words in line:
                return str(line)
        raise AssertionError(f"{words} was not said: {self.lines}")

    def kill(self) -> None:
        """What a power cut does."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.process.stdout.close()

    def end(self) -> None:
        if self.process.poll() is None:
            self.process.terminate()
            self.process.wait(20)
        self.process.stdout.close()


@contextmanager
def serving(folder: Path, *words: str, before: str = "") -> Iterator[Served]:
    """A bench that runs until the test is over; `before` is carried out first in its own process."""
    made = Served(folder, words, before)
    made.start()
    try:
        yield made
    finally:
        made.end()


def violations(page: Any) -> list[str]:
    """What axe-core finds on a page as it is shown, and how much it is too wide."""
    axe = (Path(__file__).with_name("vendor") / "axe.min.js").read_text(encoding="utf-8")
    page.evaluate(f"window.axe || (() => {{{axe}}})()")
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    told = [f"{page.url}: {one['id']} {one['nodes'][0]['html'][:150]}" for one in found]
    return [*told, f"{page.url} is {wide} px too wide"] if wide > 0 else told


def token(client: httpx.Client, path: str = "/") -> str:
    found = re.search(r'name="token" (?:content|value)="(\w+)"', client.get(path).text)
    assert found
    return found[1]


def send(client: httpx.Client, path: str, files: Any = None, **fields: Any) -> httpx.Response:
    return client.post(path, data={"token": token(client), **fields}, files=files)


def wait_for(client: httpx.Client, job: str, states: tuple[str, ...] = OVER, seconds: float = 120) -> dict[str, str]:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        told: dict[str, str] = client.get(f"/api/jobs/{job}").json()
        if told["state"] in states:
            return told
        time.sleep(0.05)
    raise AssertionError(f"the job {job} is still {told}")


def make_face(client: httpx.Client) -> str:
    """A face of a cut coupon."""
    send(client, "/trial/new", code="N1", joint="tee", question="does it hold?")
    send(client, "/trial/N1/bead", **{"set.volts": "18.5 V"})
    send(client, "/bead/N1-01/cut", into="2")
    return str(send(client, "/piece/N1-01-A/face").url.path).removeprefix("/open/")
