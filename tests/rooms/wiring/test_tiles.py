"""The pyramid of tiles: how many levels, and what their pixels are."""

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.trials.records import PictureEntry
from etchbook.wiring.laidout import lay_out
from etchbook.wiring.tiles import cut, levels, size_of


@pytest.mark.parametrize(
    ("width", "height", "expected"),
    [(1, 1, 1), (512, 512, 1), (513, 10, 2), (1024, 1024, 2), (1025, 3, 3), (1600, 1200, 3), (8064, 6048, 5)],
)
def test_each_level_halves_until_one_tile_is_left(width: int, height: int, expected: int) -> None:
    assert levels(width, height) == expected


def test_a_page_is_told_size_and_levels() -> None:
    entry = PictureEntry(code="N1-01-A-1-P1", sha256="0" * 64, name="a", suffix=".png", size=1, width=1600, height=1200)
    told = {"picture": "N1-01-A-1-P1", "width": 1600, "height": 1200, "levels": 3, "side": 512}
    assert size_of(entry) == told


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """1100 x 600 px: light grows by 1 with every 10 columns."""
    light = np.repeat((np.arange(1100) // 10).astype(np.uint8)[None], 600, axis=0)
    held = io.BytesIO()
    Image.fromarray(np.repeat(light[..., None], 3, axis=2)).save(held, "PNG")
    lay_out(held.getvalue(), "x.png", "weld", str(tmp_path / "laid"))
    return tmp_path / "laid"


def tile(folder: Path, name: str) -> np.ndarray:
    return np.asarray(Image.open(folder / f"{name}.jpg"), float)[..., 0]


def test_the_finest_level_has_every_pixel(photo: Path, tmp_path: Path) -> None:
    cut(str(photo), str(tmp_path / "tiles" / "2"), 2)
    names = sorted(path.name for path in (tmp_path / "tiles" / "2").iterdir())
    assert names == ["0-0.jpg", "0-1.jpg", "1-0.jpg", "1-1.jpg", "2-0.jpg", "2-1.jpg"]
    assert tile(tmp_path / "tiles" / "2", "2-1").shape == (600 - 512, 1100 - 1024)
    row = tile(tmp_path / "tiles" / "2", "1-0")[100]
    np.testing.assert_allclose(row, np.arange(512, 1024) // 10, atol=2.5)


def test_the_coarsest_level_is_the_mean_of_blocks_and_holds_the_rest_at_the_border(photo: Path, tmp_path: Path) -> None:
    """Blocks of 4 x 4: 275 x 150 pixels."""
    cut(str(photo), str(tmp_path / "tiles" / "0"), 0)
    row = tile(tmp_path / "tiles" / "0", "0-0")
    assert row.shape == (150, 275)
    expected = (np.arange(1100) // 10).reshape(275, 4).mean(axis=1)
    np.testing.assert_allclose(row[75], expected, atol=2.5)


def test_nothing_half_made_is_left(photo: Path, tmp_path: Path) -> None:
    cut(str(photo), str(tmp_path / "tiles" / "1"), 1)
    cut(str(photo), str(tmp_path / "tiles" / "1"), 1)
    assert [path.name for path in (tmp_path / "tiles").iterdir()] == ["1"]
