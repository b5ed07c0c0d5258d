"""Which pixel is what, at the size of the photo."""

import numpy as np
import pytest

from etchbook.joint import Joint
from etchbook.picture import NoScale
from etchbook.section import Outline, PictureFacts, Reading, Regions, region_labels


def reading(labels: np.ndarray, factor: float, size: tuple[int, int], *rings: np.ndarray) -> Reading:
    width, height = size
    return Reading(
        joint=Joint(family="bead"),
        scale=NoScale(reason="not wanted here"),
        picture=PictureFacts(sha256="", name="", width=width, height=height),
        regions=Regions(labels=labels.astype(np.uint8), factor=factor),
        outline=Outline(boundaries={}, landmarks={}, lines={}, weld=rings),
        dimensions={},
    )


def quarters(height: int, width: int) -> np.ndarray:
    """0 and 1 above, 2 and 3 below."""
    y, x = np.mgrid[0:height, 0:width]
    return np.asarray(2 * (y >= height // 2) + (x >= width // 2), np.uint8)


@pytest.mark.parametrize(("factor", "size"), [(1.0, (30, 20)), (2.0, (60, 40)), (2.5, (75, 50)), (2.0, (59, 39))])
def test_labels_have_the_size_of_the_photo_and_lie_where_they_lay(factor: float, size: tuple[int, int]) -> None:
    found = region_labels(reading(quarters(20, 30), factor, size))
    assert found.shape == (size[1], size[0]) and found.dtype == np.uint8
    assert set(np.unique(found)) == {0, 1, 2, 3}
    assert [found[0, 0], found[0, -1], found[-1, 0], found[-1, -1]] == [0, 1, 2, 3]
    assert np.mean(found == 3) == pytest.approx(0.25, abs=0.02)


def test_the_traced_weld_is_filled_at_full_size() -> None:
    """A square of 20.0 px whose corners lie on quarter pixels, in plate seen at a fourth of the size."""
    ring = np.array([[10.25, 10.25], [30.25, 10.25], [30.25, 30.25], [10.25, 30.25]])
    found = region_labels(reading(np.ones((12, 12)), 4.0, (48, 48), ring))
    assert (found == 3).sum() == pytest.approx(400, abs=20)
    rows, columns = np.nonzero(found == 3)
    assert rows.mean() == pytest.approx(20.25, abs=0.5) and columns.mean() == pytest.approx(20.25, abs=0.5)


def test_weld_outside_the_traced_contour_is_weld_no_more() -> None:
    ring = np.array([[10.0, 10.0], [30.0, 10.0], [30.0, 30.0], [10.0, 30.0]])
    found = region_labels(reading(np.full((12, 12), 3), 4.0, (48, 48), ring))
    assert found[2, 2] != 3 and found[20, 20] == 3
