"""Work in processes apart: answers and refusals come back, a process that ends takes nothing else with it."""

import os
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.joint import Joint
from etchbook.store import MemoryStore
from etchbook.usecases import RefusedError
from etchbook.wiring import laidout
from etchbook.wiring.apart import EndedError, Lane


@pytest.fixture(scope="module", autouse=True)
def nobody_left() -> Iterator[None]:
    yield
    laidout.SLOW.close()


@pytest.fixture
def lane() -> Iterator[Lane]:
    made = Lane(2)
    yield made
    made.close()


def test_answers_come_from_another_process_which_is_used_again(lane: Lane) -> None:
    first = lane.ask(os.getpid)
    assert first != os.getpid() and lane.ask(os.getpid) == first
    assert lane.ask(int, "7") == 7


def test_two_are_worked_on_at_once_and_a_third_waits_its_turn(lane: Lane) -> None:
    lane.ask(os.getpid)
    with ThreadPoolExecutor(3) as pool:
        asked = [pool.submit(lane.ask, time.sleep, 0.2) for _ in range(3)]
        assert [one.result() for one in asked] == [None] * 3
    with ThreadPoolExecutor(6) as pool:
        seen = {one.result() for one in [pool.submit(lane.ask, os.getpid) for _ in range(6)]}
    assert len(seen) <= 2


def test_every_process_of_a_lane_is_made_ready_without_waiting(lane: Lane, tmp_path: Path) -> None:
    begun = time.monotonic()
    lane.ready(time.sleep, 0.5)
    assert time.monotonic() - begun < 0.4
    lane.ready(divmod, 1, 0)  # what goes wrong there is told to whoever asks for it in earnest
    with ThreadPoolExecutor(2) as pool:
        seen = {one.result() for one in [pool.submit(lane.ask, os.getpid) for _ in range(2)]}
    assert seen and os.getpid() not in seen


def test_what_is_refused_there_is_refused_here_in_a_sentence(lane: Lane, tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="is cut short or damaged"):
        lane.ask(laidout.lay_out, b"\x89PNG\r\n\x1a\nnothing more", "x.png", "x", str(tmp_path / "x"))
    with pytest.raises(RuntimeError, match="ZeroDivisionError"):
        lane.ask(divmod, 1, 0)
    assert list(tmp_path.iterdir()) == [] and lane.ask(int, "7") == 7


def test_a_process_that_ends_is_replaced(lane: Lane) -> None:
    with pytest.raises(EndedError, match="try it again"):
        lane.ask(os._exit, 3)
    assert lane.ask(int, "7") == 7


class Shelf(MemoryStore):
    """A store that gives any bytes back under their name."""

    held: dict[str, bytes]

    def original(self, sha256: str) -> bytes:
        return self.held[sha256]


def test_pictures_lie_decoded_as_long_as_there_is_room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from etchbook.trials.records import Book

    monkeypatch.setattr(laidout, "MOST_PIXELS", 30_000)
    store = Shelf(Book(id="b", name="B"))
    store.held = {}
    folders = []
    for grey in (10, 20, 30):
        path = tmp_path / f"{grey}.png"
        Image.fromarray(np.full((100, 120), grey, np.uint8)).save(path)
        store.held[f"{grey}" * 32] = path.read_bytes()
    for digest in store.held:
        folders.append(laidout.picture_folder(store, digest, ".png", "weld 1"))
        shown = laidout.laid_out(str(folders[-1]))
        assert (shown.width, shown.height, shown.name) == (120, 100, "weld 1") and not shown.rgb.flags.writeable
        assert np.unique(shown.rgb).tolist() == [int(digest[:2]) * 257]
    assert [folder.is_dir() for folder in folders] == [False, True, True]
    again = laidout.with_folder(
        store, next(iter(store.held)), ".png", "weld 1", lambda folder: laidout.laid_out(str(folder))
    )
    assert np.unique(again.rgb).tolist() == [2570]


def test_an_open_section_is_the_same_as_one_opened_here(tmp_path: Path) -> None:
    from etchbook.section.again import open_section
    from etchbook.simulate import draw_case, paint

    section = paint(draw_case("tee", 5), width=640, height=480, seed=5, difficulty="plain")
    folder = tmp_path / "picture"
    folder.mkdir()
    np.save(folder / "rgb.npy", section.picture.rgb)
    (folder / "about.json").write_text('{"sha256": "", "name": "w", "notes": [], "pixels": 307200}')
    laidout.look_at(str(folder), Joint(family="tee"), str(folder / "a.section"))
    kept, here = (
        laidout.section_in(str(folder), str(folder / "a.section")),
        open_section(section.picture, Joint(family="tee")),
    )
    assert np.array_equal(kept.picture.rgb, here.picture.rgb)
    assert kept.spread == here.spread
