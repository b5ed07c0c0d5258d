"""A bench that really runs: its book in a new folder, its server on a free port, and a browser's worth of client."""

import re
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
import pytest
import uvicorn

import etchbook
from etchbook.cli.serve import listening
from etchbook.report import picture_png
from etchbook.simulate import PaintedSection
from etchbook.web import create_app
from etchbook.wiring import shelf


@dataclass
class Bench:
    """The bench and a client that keeps its cookie."""

    address: str
    client: httpx.Client
    folder: Path

    def get(self, path: str, **asked: Any) -> httpx.Response:
        return self.client.get(path, **asked)

    def token(self) -> str:
        found = re.search(r'name="token" content="(\w+)"', self.get("/").text)
        assert found
        return found[1]

    def send(self, path: str, files: Any = None, **fields: Any) -> httpx.Response:
        return self.client.post(path, data={"token": self.token(), **fields}, files=files)

    def wait(self, job: str) -> dict[str, str]:
        until = time.monotonic() + 120
        while time.monotonic() < until:
            told: dict[str, str] = self.get(f"/api/jobs/{job}").json()
            if told["state"] in ("done", "refused", "stopped"):
                return told
            time.sleep(0.1)
        raise AssertionError(f"the job {job} did not end")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Bench]:
    """A bench of an empty book."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setenv("ETCHBOOK_BY", "tester")
    shelf.begin(tmp_path / "book", "Bay B").close()
    server = uvicorn.Server(uvicorn.Config(create_app(tmp_path / "book"), log_level="critical"))
    held = listening(0)
    address = f"http://127.0.0.1:{held.getsockname()[1]}"
    thread = threading.Thread(target=server.run, kwargs={"sockets": [held]})
    thread.start()
    try:
        with httpx.Client(base_url=address, follow_redirects=True, timeout=60) as client:
            until = time.monotonic() + 20
            while not server.started and time.monotonic() < until:
                time.sleep(0.02)
            yield Bench(address=address, client=client, folder=tmp_path / "book")
    finally:
        server.should_exit = True
        thread.join()
        held.close()


@pytest.fixture(scope="session")
def painted() -> tuple[PaintedSection, bytes]:
    """A painted tee whose truth is known, and its photograph."""
    section = next(iter(etchbook.paint("tee", seed=3, difficulty="plain")))
    return section, picture_png(section.picture)


@pytest.fixture
def face(bench: Bench) -> str:
    """A face of a cut coupon, made by the pages alone."""
    bench.send("/trial/new", code="N1", joint="tee", question="does it hold?")
    bench.send("/trial/N1/bead", **{"set.volts": "18.5 V"})
    bench.send("/bead/N1-01/cut", into="2")
    return str(bench.send("/piece/N1-01-A/face").url.path).removeprefix("/open/")
