"""A shop's own corrections, saved as labelled examples: from a photograph and from the book."""

import json
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from .conftest import Ask


@pytest.fixture
def marks(painted: Path, tmp_path: Path) -> tuple[Path, dict[str, list[float]]]:
    """True toes of the painted tee, as a person would mark them, and the scale."""
    truth = json.loads((painted / "tee_00005.truth.json").read_text())
    toes = {name: [float(x) for x in truth["landmarks_px"][name]] for name in ("toe_1", "toe_2")}
    path = tmp_path / "marks.json"
    path.write_text(json.dumps(toes))
    return path, toes


@pytest.fixture
def book(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("ETCHBOOK_BY", "AB")
    monkeypatch.delenv("ETCHBOOK_BOOK", raising=False)
    for words in (("book", "new", tmp_path / "bay"), ("trial", "N1", "--joint", "tee"), ("bead", "N1", "volts=18"),
                  ("cut", "N1-01"), ("face", "N1-01-A", "--grind", "P600")):  # fmt: skip
        assert ask(*words).code == 0
    return tmp_path / "bay"


def pixels(path: Path) -> np.ndarray:
    with Image.open(path) as image:
        return np.asarray(image)


def test_corrections_of_the_book_come_out_as_examples_that_read_the_same_again(
    ask: Ask, book: Path, painted: Path, marks: tuple[Path, dict[str, list[float]]], tmp_path: Path
) -> None:
    answer = ask("book", "examples", tmp_path / "out")
    assert answer.code == 2 and "no reading has been corrected" in answer.err and not (tmp_path / "out").exists()
    photo, (path, toes) = painted / "tee_00005.png", marks
    assert ask("read", photo, "--scale", "20", "--into", "N1-01-A", "--marks", path).code == 0
    answer = ask("book", "examples", tmp_path / "out", "N1-01")
    assert answer.code == 0 and "1 example" in answer.out, answer.err
    folder = tmp_path / "out" / "N1-01-A-1-P1-R1"
    assert sorted(file.name for file in folder.iterdir()) == ["marks.json", "photo.png", "reading.json", "regions.png"]
    told = json.loads((folder / "marks.json").read_text())["marks"]
    assert sorted(told) == sorted(toes) and all(told[name] == pytest.approx(toes[name], abs=0.01) for name in toes)
    regions, true, kept_photo = (
        pixels(path) for path in (folder / "regions.png", painted / "tee_00005.truth.png", folder / "photo.png")
    )
    assert regions.shape == true.shape == kept_photo.shape[:2]
    assert set(np.unique(regions)) <= {0, 1, 2, 3}
    shared = ((regions == 3) & (true == 3)).sum() / ((regions == 3) | (true == 3)).sum()
    assert shared > 0.8  # the weld metal of the example is the weld metal that was painted
    again = ask("read", folder / "photo.png", "--joint", "tee", "--scale", "20", "--marks", folder / "marks.json",
                "--json", "-")  # fmt: skip
    kept = json.loads((folder / "reading.json").read_text())
    assert json.loads(again.out)["dimensions"] == kept["dimensions"]
