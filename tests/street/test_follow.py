"""The command ``follow`` as a person uses it."""

import json
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.simulate.faces import draw_face
from etchbook.simulate.views import FaceState, View, moved, take_picture

from .conftest import Ask

WIDTH, HEIGHT = 900, 675
Folder = tuple[Path, dict[bool, str]]


@pytest.fixture(scope="module")
def face(tmp_path_factory: pytest.TempPathFactory) -> Folder:
    """One face etched, polished and unetched: a.png, b.png; its lines in px of A by whether they are openings."""
    folder = tmp_path_factory.mktemp("face")
    held = draw_face("tee", 401, int(1.5 * WIDTH), int(1.5 * HEIGHT))
    shift = np.array([[0.66, 0.0, 5.0], [0.0, 0.66, 3.0], [0.0, 0.0, 1.0]])
    turned = np.array([[0.0, -0.62, 820.0], [0.62, 0.0, -60.0], [0.0, 0.0, 1.0]])
    states = (FaceState(finish="600"), FaceState(finish="polished", etched=False, scratched=1))
    for name, state, matrix in zip("ab", states, (shift, turned), strict=True):
        view = View(matrix=matrix, width=WIDTH, height=HEIGHT)
        picture = take_picture(held, state, view, seed=ord(name), level=0.1)
        Image.fromarray((picture.rgb >> 8).astype(np.uint8)).save(folder / f"{name}.png")
    lines = {line.real: _typed(moved(shift, line.points)) for line in held.lines}
    assert set(lines) == {True, False}
    return folder, lines


def _typed(points: np.ndarray) -> str:
    inside = points[((points > 2) & (points < [WIDTH - 3, HEIGHT - 3])).all(axis=1)]
    return ",".join(f"{x:.1f},{y:.1f}" for x, y in inside[::25])


def test_an_opening_stays_and_what_the_etch_alone_shows_goes(ask: Ask, face: Folder, tmp_path: Path) -> None:
    folder, lines = face
    out = {kind: tmp_path / f"out{end}" for kind, end in (("beside", ".png"), ("flicker", ".gif"), ("html", ".html"))}
    out["json"] = tmp_path / "out.json"
    asked = [word for kind, path in out.items() for word in (f"--{kind}", path)]
    answer = ask(
        "follow", folder / "a.png", folder / "b.png", "--joint", "tee", "--scale", "A=23",
        "--state", "A=finish:600,etched:yes", "--state", "B=finish:polished,etched:no",
        "--line", lines[True], "--line", lines[False], *asked,
    )  # fmt: skip
    assert answer.code == 0, answer.err
    told = json.loads(out["json"].read_text())
    opening, etched = told["lines"][:2]
    assert opening["pictures"][1]["words"][0] == "present" and etched["pictures"][1]["words"][0] == "gone"
    assert told["pictures"][1]["laid_on_a"]["trusted"] and told["pictures"][1]["px_per_mm"] == pytest.approx(
        23 * 0.62 / 0.66, rel=0.01
    )
    with Image.open(out["flicker"]) as moving:
        assert moving.n_frames == 2
    page = out["html"].read_text()
    assert "<script" not in page and "http" not in page.replace("http-equiv", "")
    assert "gone" in answer.out and "before etching" in answer.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--state", "Z=etched:no"), "does not say which picture"),
        (("--state", "A=etched:perhaps"), "yes or no"),
        (("--state", "A=colour:red"), "is no state"),
        (("--scale", "A=-4"), "more than 0"),
        (("--line", "1,2,3"), "is no line"),
        (("--flicker", "x.avi"), ".gif, .png or .webp"),
    ],
)
def test_a_slip_is_one_sentence(ask: Ask, face: Folder, words: tuple[str, str], said: str) -> None:
    answer = ask("follow", face[0] / "a.png", face[0] / "b.png", *words)
    assert answer.code == 2 and said in answer.err and len(answer.err.strip().splitlines()) == 1


def test_one_picture_cannot_be_followed(ask: Ask, face: Folder) -> None:
    answer = ask("follow", face[0] / "a.png")
    assert answer.code == 2 and "two to 12" in answer.err


def test_pictures_of_different_things_are_refused_and_nothing_is_kept(
    ask: Ask, face: Folder, noise: Path, tmp_path: Path
) -> None:
    kept = tmp_path / "beside.png"
    answer = ask("follow", face[0] / "a.png", noise, "--beside", kept)
    assert answer.code == 2 and "with trust" in answer.err and not kept.exists()


def _drawn(face: Folder, folder: Path, changes: list[tuple[str, float, float]]) -> str:
    """The first picture again and again, each with the same straight line as wide and as dark as asked."""
    with Image.open(face[0] / "a.png") as opened:
        light = np.asarray(opened.convert("RGB"), np.float32)
    metal = light.mean(axis=2) > 60
    # The longest run of metal in any row, far from the picture's border, is plain plate.
    runs = [(_run(metal[row]), row) for row in range(60, HEIGHT - 60, 8)]
    (length, first), row = max(runs)
    start, stop = first + length // 4, first + 3 * length // 4
    rng = np.random.default_rng(2)
    for name, width, lost in changes:
        offset = np.abs(np.arange(HEIGHT) - row)[:, None]
        cover = np.clip(0.5 + 0.5 * width - offset, 0, 1) * ((np.arange(WIDTH) >= start) & (np.arange(WIDTH) < stop))
        changed = light * (1 - lost * cover[..., None]) + rng.normal(0, 1.0, light.shape)
        Image.fromarray(np.clip(changed, 0, 255).astype(np.uint8)).save(folder / f"{name}.png")
    return f"{start + 3},{row},{stop - 3},{row}"


def _run(flags: np.ndarray) -> tuple[int, int]:
    """Length and first of the longest run that is true."""
    edges = np.diff(np.concatenate([[0], flags.astype(int), [0]]))
    starts, stops = np.nonzero(edges == 1)[0], np.nonzero(edges == -1)[0]
    best = int(np.argmax(stops - starts))
    return int(stops[best] - starts[best]), int(starts[best])


def _words(path: Path) -> list[str]:
    return list(json.loads(path.read_text())["lines"][0]["pictures"][1]["words"])


def test_a_line_that_turns_from_dark_to_bright_flips_with_the_light(ask: Ask, face: Folder, tmp_path: Path) -> None:
    line = _drawn(face, tmp_path, [("dark", 5.0, 0.5), ("bright", 5.0, -0.4)])
    kept = tmp_path / "out.json"
    answer = ask(
        "follow", tmp_path / "dark.png", tmp_path / "bright.png", "--joint", "tee", "--line", line, "--json", kept,
        "--state", "A=finish:600,etched:yes,light:0", "--state", "B=finish:600,etched:yes,light:90",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    assert "flips with the light" in _words(kept) and "turns from dark to bright" in answer.out


def test_a_line_that_was_ground_finer_is_narrower(ask: Ask, face: Folder, tmp_path: Path) -> None:
    line = _drawn(face, tmp_path, [("wide", 11.0, 0.5), ("fine", 5.0, 0.5)])
    kept = tmp_path / "out.json"
    answer = ask(
        "follow", tmp_path / "wide.png", tmp_path / "fine.png", "--joint", "tee", "--line", line, "--json", kept
    )
    assert answer.code == 0, answer.err
    assert {"present", "narrower"} <= set(_words(kept))
    back = ask("follow", tmp_path / "fine.png", tmp_path / "wide.png", "--joint", "tee", "--line", line, "--json", kept)
    assert back.code == 0 and "wider" in _words(kept)


def test_points_by_hand_lay_pictures_that_would_be_refused(ask: Ask, face: Folder, noise: Path, tmp_path: Path) -> None:
    kept, points = tmp_path / "out.json", tmp_path / "points.csv"
    points.write_text("xa,ya,xb,yb\n20,20,10,10\n420,40,210,20\n380,300,190,150\n60,280,30,140\n")
    answer = ask("follow", face[0] / "a.png", noise, "--joint", "tee", "--points", f"B={points}", "--json", kept)
    assert answer.code == 0, answer.err
    placed = json.loads(kept.read_text())["pictures"][1]["laid_on_a"]
    assert placed["by_hand"] and placed["px_per_px_of_a"] == pytest.approx(0.5, abs=0.01)
    assert "a person matched" in answer.out


@pytest.mark.parametrize(
    ("points", "said"),
    [
        ("B=1,2,3", "three points or more"),
        ("A=1,2,3,4", "picture A and another one"),
        ("B=20,20,10,10,420,40,210,20,380,300,190,9999", "leaves picture B"),
        ("B=20,20,10,10,420,40,210,20,380,300,190,150,60,280,300,40", "do not fit each other"),
    ],
)
def test_points_that_cannot_be_are_one_sentence(ask: Ask, face: Folder, noise: Path, points: str, said: str) -> None:
    answer = ask("follow", face[0] / "a.png", noise, "--points", points)
    assert answer.code == 2 and said in answer.err and len(answer.err.strip().splitlines()) == 1
