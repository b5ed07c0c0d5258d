"""The photo with its lines."""

from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from etchbook.report import overlay_png, overlay_svg
from etchbook.report.overlay import weld_window
from rooms.report import example, others


def pixels(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(BytesIO(png)).convert("RGB"), dtype=int)


def test_lines_lie_where_they_were_measured_and_nowhere_else() -> None:
    picture = others.blank(1000, 800, grey=32896)
    drawn = pixels(overlay_png(example.reading(), picture))
    assert drawn.shape == (800, 1000, 3)
    # Leg 1 runs along y = 430 from x = 420 to 668: the light line, and the dark rim above it.
    assert (drawn[430, 560:600, 0] > 220).mean() > 0.9
    assert drawn[427:434, 560:600].min() < 90
    # Far from every line and every word the photo is as it was (a JPEG of one grey keeps its grey).
    assert np.abs(drawn[20:80, 850:980] - 128).max() <= 2


def test_a_large_picture_is_reduced_and_a_small_one_is_not() -> None:
    assert pixels(overlay_png(others.nothing(), others.blank(1000, 800), longest=500)).shape == (400, 500, 3)


def test_it_is_seen_on_black_and_on_white() -> None:
    for grey in (0, 65535):
        drawn = pixels(overlay_png(example.reading(), others.blank(1000, 800, grey=grey)))
        band = drawn[424:437, 560:600]
        assert band.max() - band.min() > 150


def test_the_svg_needs_nothing_from_outside() -> None:
    svg = overlay_svg(example.reading(), example.picture())
    tree = ElementTree.fromstring(svg)
    links = [value for item in tree.iter() for key, value in item.attrib.items() if key.endswith("href")]
    assert len(links) == 1 and links[0].startswith("data:image/jpeg;base64,")
    assert tree.get("viewBox") == "0 0 1000 800"
    words = {item.text for item in tree.iter("{http://www.w3.org/2000/svg}text")}
    assert {"toe 1", "toe 2", "root", "leg 1: 6.20 mm"} <= words


@pytest.mark.parametrize("degrees", [0.0, 25.0, 100.0, 170.0, 260.0])
def test_no_words_lie_on_one_another(degrees: float) -> None:
    tree = ElementTree.fromstring(overlay_svg(others.turned(degrees), others.blank(1000, 800)))
    boxes: list[tuple[float, float, float, float]] = []
    for item in tree.iter("{http://www.w3.org/2000/svg}text"):
        if item.get("aria-hidden"):
            continue
        size, x, y = (float(item.get(key) or 0) for key in ("font-size", "x", "y"))
        half = 0.25 * size * len(item.text or "")
        middle = x if item.get("text-anchor") == "middle" else x + half
        new = (middle - half, y - 0.75 * size, middle + half, y + 0.2 * size)
        for old in boxes:
            assert new[2] <= old[0] or old[2] <= new[0] or new[3] <= old[1] or old[3] <= new[1], item.text
        boxes.append(new)
    assert len(boxes) > 8


def test_the_window_holds_the_weld() -> None:
    left, top, right, bottom = weld_window(example.reading())
    assert 0 <= left < 360 and right > 668 and top < 206 and bottom > 482
    assert weld_window(others.nothing()) == (0, 0, 1000, 800)


def test_a_line_cut_off_by_the_window_is_left_out() -> None:
    svg = overlay_svg(example.reading(), example.picture(), window=(300, 150, 760, 600))
    assert "plate 1" not in svg.split("</desc>")[1]
    assert "leg 1: 6.20 mm" in svg.split("</desc>")[1]
