"""A book with a face in three pictures, two of them of the same metal; and a browser with a finger or a mouse."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from etchbook.report import picture_png
from etchbook.simulate import PaintedSection, draw_case, paint
from etchbook.wiring import shelf
from etchbook.wiring.benchjobs import Order, carry_out, spool

CHROMIUM = Path("/usr/bin/chromium")
DESK = {"viewport": {"width": 1280, "height": 800}}
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
SIZES: dict[str, dict[str, Any]] = {"desk": DESK, "phone": PHONE}
CLOSER, TURN, CUT = 1.3, 4.0, (40, 30)


def section(seed: int = 66) -> PaintedSection:
    """A painted tee; the one of seed 66 has a rule beside it."""
    return paint(draw_case("tee", seed), width=960, height=720, seed=seed, difficulty="plain")


def closer(data: bytes) -> bytes:
    """The same metal from nearer, turned a little, duller, with grain of its own."""
    first = Image.open(io.BytesIO(data)).convert("RGB")
    size = (round(first.width * CLOSER), round(first.height * CLOSER))
    made = first.resize(size, Image.Resampling.BICUBIC).rotate(TURN, resample=Image.Resampling.BICUBIC)
    made = made.crop((*CUT, size[0] - 40, size[1] - 30))
    light = np.asarray(made, float) * 0.7 + 40 + np.random.default_rng(0).normal(0, 3, (made.height, made.width, 3))
    held = io.BytesIO()
    Image.fromarray(light.clip(0, 255).astype(np.uint8)).save(held, "JPEG", quality=93)
    return held.getvalue()


def in_closer(points: np.ndarray, size: tuple[int, int] = (960, 720)) -> np.ndarray:
    """Where points of the first picture lie in the closer one, by hand: enlarged, turned about the middle, cut."""
    at = (points + 0.5) * CLOSER
    middle = np.array(size) * CLOSER / 2
    turn = np.radians(TURN)
    back = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    return np.asarray((at - middle) @ back.T + middle - CUT - 0.5)


def put_in(folder: Path, face: str, data: bytes, name: str, **order: Any) -> str:
    """Put a photograph into a book, and read it where the order says so; the code that came of it."""
    store = shelf.meant(str(folder))
    hand = shelf.hand("tester")
    store.close()
    told: list[tuple[str, str]] = []
    made = Order(folder=str(folder), code=face, hand=hand, upload=spool(data, name), called=name, **order)
    carry_out(made, lambda kind, words: told.append((kind, words)))
    assert told[-1][0] == "done", told
    return told[-1][1]


def three_pictures(folder: Path, face: str) -> PaintedSection:
    """P1, read; P2, the same metal nearer; P3, another section."""
    painted = section()
    data = picture_png(painted.picture)
    put_in(folder, face, data, "weld.png", scale=f"{painted.truth.px_per_mm:.4f}", joint="tee")
    put_in(folder, face, closer(data), "closer.jpg", keep_only=True, light="lamp from the left")
    put_in(folder, face, picture_png(section(5).picture), "another.png", keep_only=True)
    return painted


@dataclass
class Sheet:
    """The picture page in a browser, with a mouse at the desk and a finger on the phone."""

    page: Any
    touch: bool
    troubles: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    at_once: int = 0
    most_at_once: int = 0
    wire: Any = None

    def open(self, code: str, wait: bool = True) -> "Sheet":
        self.page.goto(f"/reading/{code}/picture")
        if wait:
            self.page.wait_for_selector("[data-ready=yes]", timeout=90_000)
            self.page.wait_for_load_state("networkidle")
        return self

    def press(self, name: str) -> None:
        """Press a button, wherever it is: on the phone the numbers are opened for it."""
        button = self.page.get_by_role("button", name=name, exact=True)
        if not button.is_visible():
            self.page.locator("[data-do=sheet]").tap()
        button.tap() if self.touch else button.click()

    def middle(self, where: str) -> tuple[float, float]:
        box = self.page.locator(where).bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def tap(self, x: float, y: float) -> None:
        self.page.touchscreen.tap(x, y) if self.touch else self.page.mouse.click(x, y)

    def down(self, *places: tuple[float, float]) -> None:
        if self.touch:
            self._touch("touchStart", places)
        else:
            self.page.mouse.move(*places[0])
            self.page.mouse.down()

    def move(self, *places: tuple[float, float]) -> None:
        self._touch("touchMove", places) if self.touch else self.page.mouse.move(*places[0])

    def up(self) -> None:
        self._touch("touchEnd", ()) if self.touch else self.page.mouse.up()

    def _touch(self, kind: str, places: Any) -> None:
        if self.wire is None:
            self.wire = self.page.context.new_cdp_session(self.page)
        points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
        self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def place(self, point: Any) -> tuple[float, float]:
        """Where a point of the picture is on the screen."""
        x, y = self.page.evaluate(
            """([x, y]) => { const m = document.querySelector('#world').getScreenCTM();
                             return [m.a * x + m.e, m.d * y + m.f]; }""",
            [float(point[0]), float(point[1])],
        )
        return x, y

    def value(self, name: str) -> str:
        return str(self.page.locator(f"[data-dim={name}] .value").inner_text(timeout=1000)).removeprefix("◂ ")

    def number(self, name: str) -> float:
        return float(self.page.locator(f"[data-dim={name}] .value").text_content().split()[0])

    def settled(self) -> None:
        """Wait until no question is under way."""
        calm = 0
        while calm < 4:  # between one answer and the next question there is a moment without either
            self.page.wait_for_timeout(50)
            calm = 0 if self.at_once else calm + 1


@contextmanager
def browsing(address: str, size: str) -> Iterator[Sheet]:
    """A browser of that size on a bench."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(base_url=address, **SIZES[size]).new_page()
        made = Sheet(page, size == "phone")
        page.on("console", lambda told: made.troubles.append(told.text) if told.type == "error" else None)
        page.on("pageerror", lambda error: made.troubles.append(str(error)))

        def begun(request: Any) -> None:
            made.asked.append(request.url)
            if request.url.endswith("/moved"):
                made.at_once += 1
                made.most_at_once = max(made.most_at_once, made.at_once)

        def ended(request: Any) -> None:
            made.at_once -= request.url.endswith("/moved")

        page.on("request", begun)
        page.on("requestfinished", ended)
        page.on("requestfailed", ended)
        yield made
        browser.close()
