"""The bench under load: twenty people browse and measure while two pictures are being read; and how soon it opens."""

import asyncio
import json
import os
import random
import re
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from typing import Any

from benchmarks.asking import Client
from benchmarks.tables import Table, number

CLIENTS = 20
STARTS = 5
MOVES = 15
"""Moves of one drag; the next one is asked when the one before was answered, as the page does."""
BETWEEN_S = 0.03
THINK_S = (1.0, 4.0)
"""Between two things that a person does."""
LEAST_S, MOST_S = 20.0, 900.0
START = "import sys; from etchbook.cli import main; sys.argv[0] = 'etchbook'; main()"
SCALE = "40"


class Served:
    """`etchbook serve` as a program of its own."""

    def __init__(self, book: Path) -> None:
        self.begun = time.perf_counter()
        words = ("serve", "--book", str(book), "--port", "0", "--no-open")
        env = {**os.environ, "XDG_CONFIG_HOME": str(book.parent / "settings")}
        env.pop("PYTHONDONTWRITEBYTECODE", None)
        env["PYTHONPYCACHEPREFIX"] = str(book.parent / "pyc")
        self.process = subprocess.Popen(
            [sys.executable, "-c", START, *words], stdout=subprocess.PIPE, text=True, env=env
        )
        assert self.process.stdout is not None
        found = re.search(r"http://[\d.:]+", self.process.stdout.readline())
        assert found is not None
        self.address = found[0]

    def first_page(self) -> dict[str, float]:
        """Seconds until the first page was there, and processor seconds spent for it."""
        import psutil

        with urllib.request.urlopen(f"{self.address}/") as page:
            page.read()
        wall = time.perf_counter() - self.begun
        spent = psutil.Process(self.process.pid).cpu_times()
        return {"wall": wall, "cpu": spent.user + spent.system}

    def end(self) -> None:
        """Stop it."""
        self.process.terminate()
        self.process.wait(30)
        assert self.process.stdout is not None
        self.process.stdout.close()


def run_load(seed: int, megapixels: int = 12, clients: int = CLIENTS) -> dict[str, Any]:
    """Open the bench a few times, then put it under load.

    Parameters
    ----------
    megapixels : of the photographs
    """
    from etchbook.wiring import shelf

    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book"
        shelf.begin(book, "Load").close()
        starts = [_start(book) for _ in range(STARTS + 1)][1:]  # the first one writes what Python compiled
        photos = _painted(Path(folder), seed, megapixels)
        served = Served(book)
        try:
            found = asyncio.run(_measured(served.address, photos, clients))
        finally:
            served.end()
    return {"starts": starts, "clients": clients, "megapixels": megapixels, **found}


def _start(book: Path) -> dict[str, float]:
    served = Served(book)
    try:
        return served.first_page()
    finally:
        served.end()


def _painted(folder: Path, seed: int, megapixels: int) -> list[Path]:
    """Four photographs: two are there before, two are read under load."""
    from benchmarks.speed import keep_painted

    made, side = [], (megapixels / 12) ** 0.5
    for number_ in range(4):
        photo = folder / f"{number_}.jpg"
        keep_painted((str(photo), seed + number_, round(4000 * side), round(3000 * side), 110.0 * side))
        made.append(photo)
    return made


def _sent(address: str, path: str, told: Any) -> Any:
    wanted = urllib.request.Request(
        f"{address}/api/{path}", json.dumps(told).encode(), {"content-type": "application/json"}
    )
    return json.load(urllib.request.urlopen(wanted))


def _upload(address: str, face: str, photo: Path) -> str:
    body = b'--b\r\ncontent-disposition: form-data; name="px_per_mm"\r\n\r\n' + SCALE.encode() + b"\r\n"
    body += b'--b\r\ncontent-disposition: form-data; name="photo"; filename="w.jpg"\r\n\r\n'
    body += photo.read_bytes() + b"\r\n--b--\r\n"
    wanted = urllib.request.Request(
        f"{address}/api/faces/{face}/pictures", body, {"content-type": "multipart/form-data; boundary=b"}
    )
    return str(json.load(urllib.request.urlopen(wanted))["id"])


async def _measured(address: str, photos: list[Path], clients: int) -> dict[str, Any]:
    _sent(address, "trials", {"code": "N1", "joint": {"family": "tee"}, "question": "does it hold?"})
    _sent(address, "trials/N1/beads", {"settings": [{"name": "volts", "value": "18.5 V"}]})
    _sent(address, "beads/N1-01/cut", {"into": 4})
    faces = [_sent(address, f"pieces/N1-01-{letter}/faces", {})["code"] for letter in "ABCD"]
    watching = Client(address)
    await _over(watching, [_upload(address, faces[k], photos[k]) for k in (0, 1)])
    readings = [f"{face}-P1-R1" for face in faces[:2]]
    people = [Person(address, random.Random(k), readings) for k in range(clients)]
    for person in people:
        await person.sit_down()
    jobs = [_upload(address, faces[k], photos[k]) for k in (2, 3)]
    begun = time.perf_counter()
    at_work = [asyncio.create_task(person.work()) for person in people]
    states = await _over(watching, jobs)
    reading = time.perf_counter() - begun
    await asyncio.sleep(max(0.0, LEAST_S - reading))
    for person in people:
        person.done = True
    await asyncio.gather(*at_work)
    await watching.close()
    spent = time.perf_counter() - begun
    return {
        "seconds": spent,
        "reading_seconds": reading,
        "read": sum(one == "done" for one in states),
        "drags": [one for person in people for one in person.drags],
        "pages": [one for person in people for one in person.pages],
        "lost": [one for person in people for one in person.lost],
    }


async def _over(client: Client, jobs: list[str]) -> list[str]:
    """The states of jobs once they are over."""
    until = time.monotonic() + MOST_S
    while time.monotonic() < until:
        states = [json.loads((await client.get(f"/api/jobs/{job}"))[1])["state"] for job in jobs]
        if all(state not in ("waiting", "running") for state in states):
            return states
        await asyncio.sleep(0.25)
    raise RuntimeError("a reading did not come to its end")


class Person:
    """Somebody at the bench who looks at pages and moves points."""

    def __init__(self, address: str, draw: random.Random, readings: list[str]) -> None:
        self.client = Client(address)
        self.draw = draw
        self.code = draw.choice(readings)
        self.toe = [0.0, 0.0]
        self.drags: list[float] = []
        self.pages: list[float] = []
        self.lost: list[str] = []
        self.done = False

    async def sit_down(self) -> None:
        """Open the picture, as its page does."""
        await self.client.open()
        status, told = await self.client.post(f"/api/reading/{self.code}/moved", {})
        assert status == 200, told
        self.toe = next(one["point"] for one in json.loads(told)["outline"]["landmarks"] if one["name"] == "toe_1")

    async def work(self) -> None:
        """Look and measure until it is enough."""
        await asyncio.sleep(self.draw.uniform(0, THINK_S[1]))
        while not self.done:
            if self.draw.random() < 0.4:
                await self._drag()
            else:
                await self._look()
            await asyncio.sleep(self.draw.uniform(*THINK_S))
        await self.client.close()

    async def _look(self) -> None:
        picture = self.code.rpartition("-")[0]
        pages = ("/", "/open/N1", "/open/N1-01", f"/open/{picture}", f"/reading/{self.code}", "/find?q=hold",
                 f"/reading/{self.code}/picture", f"/picture/{picture}/tile/2/1/1.jpg",
                 f"/reading/{self.code}?against=iso-5817:B", "/api/things?kind=piece")  # fmt: skip
        path = self.draw.choice(pages)
        begun = time.perf_counter()
        status, _ = await self.client.get(path)
        self.pages.append(1000 * (time.perf_counter() - begun))
        if status != 200:
            self.lost.append(f"{path}: {status}")

    async def _drag(self) -> None:
        for step in range(MOVES):
            point = [self.toe[0] + step, self.toe[1] + self.draw.uniform(-3, 3)]
            begun = time.perf_counter()
            told = {"marks": {"toe_1": point}, "quick": True}
            status, answer = await self.client.post(f"/api/reading/{self.code}/moved", told)
            self.drags.append(1000 * (time.perf_counter() - begun))
            if status != 200 or b'"rows"' not in answer:
                self.lost.append(f"drag: {status}")
            await asyncio.sleep(BETWEEN_S)


def p95(figures: list[float]) -> float:
    """The figure below which 95 % lie."""
    return statistics.quantiles(figures, n=20)[-1] if len(figures) > 1 else float("nan")


def load_table(found: dict[str, Any]) -> Table:
    """Drags, pages and starts in rows."""
    walls, cpus = ([one[kind] for one in found["starts"]] for kind in ("wall", "cpu"))
    rows = [
        (name, str(len(figures)), number(statistics.median(figures), 0), number(p95(figures), 0),
         number(max(figures), 0))
        for name, figures in (("a move of a drag", found["drags"]), ("a page", found["pages"]))
    ] + [
        ("from `etchbook serve` to the first page", str(len(walls)), number(1000 * statistics.median(walls), 0), "–",
         number(1000 * max(walls), 0)),
        ("… of it processor time", str(len(cpus)), number(1000 * statistics.median(cpus), 0), "–",
         number(1000 * max(cpus), 0)),
    ]  # fmt: skip
    return Table(
        title="The bench under load",
        before=[
            f"{found['clients']} people browse and move points on two pictures of {found['megapixels']} MP for "
            f"{found['seconds']:.0f} s while two more are read (that took {found['reading_seconds']:.0f} s). A person "
            f"does something every {THINK_S[0]:g} to {THINK_S[1]:g} s; four times in ten it is a drag of {MOVES} "
            "moves, each asked when the one before was answered. The people run on the same machine as the bench. "
            "Milliseconds."
        ],
        head=("what", "how often", "median", "95 % below", "longest"),
        rows=rows,
        after=[
            f"Lost: {len(found['lost'])} of {len(found['drags']) + len(found['pages'])}. "
            f"Readings that came to their end: {found['read']} of 2."
        ],
    )
