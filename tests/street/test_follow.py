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
