"""The line drawing: well formed, to scale, words apart, pencil inside its lines."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from etchbook.geometry import contains
from etchbook.report import drawing_svg, overlay_svg
from etchbook.report.paper import paper_for
from etchbook.report.sketching import hatching, haz_bands, stipple
from etchbook.section import Reading
from rooms.report import example, others

SVG = "{http://www.w3.org/2000/svg}"
EVERY = {
    "tee": example.reading,
    "no scale": lambda: example.reading(scaled=False),
    "bead": others.bead,
    "butt": others.butt,
    "turned 25": lambda: others.turned(25.0),
    "turned 170": lambda: others.turned(170.0),
    "nothing": others.nothing,
}


def texts(svg: str) -> list[ElementTree.Element]:
    found = ElementTree.fromstring(svg).iter(f"{SVG}text")
    return [item for item in found if item.get("aria-hidden") is None]


def box(item: ElementTree.Element) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of a text, with letters of half their size in width."""
    size, x, y = (float(item.get(key) or 0) for key in ("font-size", "x", "y"))
    width = 0.5 * size * len(item.text or "")
    left = {"middle": x - width / 2, "end": x - width}.get(item.get("text-anchor") or "", x)
    return left, y - 0.75 * size, left + width, y + 0.2 * size


@pytest.mark.parametrize("name", EVERY)
def test_no_words_lie_on_one_another(name: str) -> None:
    boxes = [(item.text, box(item)) for item in texts(drawing_svg(EVERY[name]()))]
    for index, (first, a) in enumerate(boxes):
        for second, b in boxes[:index]:
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, f"{first} lies on {second}"


@pytest.mark.parametrize("name", EVERY)
def test_words_stay_on_the_sheet(name: str) -> None:
    for item in texts(drawing_svg(EVERY[name]())):
        left, top, right, bottom = box(item)
        assert left >= 0 and top >= 0 and right <= 170 and bottom <= 115, item.text


def test_every_measured_value_stands_beside_its_line() -> None:
    words = {item.text for item in texts(drawing_svg(example.reading()))}
    assert {"leg 1: 6.20 mm", "leg 2: 5.60 mm", "throat a: 4.36 mm", "toe angle 1: 128°"} <= words
    assert "one square is 1 mm, drawn 5 : 1" in words


def test_the_scale_is_true_on_paper() -> None:
    paper = paper_for(example.reading())
    across = paper.on(np.array([[420.0, 430.0], [668.0, 430.0]]))
    # 6.2 mm drawn 5 : 1.
    assert np.hypot(*(across[1] - across[0])) == pytest.approx(31.0)


def test_without_a_scale_it_says_so_and_gives_no_lengths() -> None:
    words = " ".join(item.text or "" for item in texts(drawing_svg(example.reading(scaled=False))))
    assert "no scale" in words
    assert not re.search(r"\d mm", words)


def test_with_nothing_found_the_sheet_says_so() -> None:
    assert [item.text for item in texts(drawing_svg(others.nothing()))] == ["no outline was found in this picture"]


def test_hatching_stays_in_the_weld_metal_and_starts_square() -> None:
    outline = example.outline()
    weld, curves = outline.weld[0], hatching(outline, 20.0)
    assert len(curves) > 20
    assert contains(weld, np.concatenate([curve[1:] for curve in curves])).all()
    fusion = np.concatenate([outline.boundaries[name].points for name in ("fusion_line_1", "fusion_line_2")])
    turns = []
    for curve in curves:
        near = int(np.argmin(np.hypot(*(fusion - curve[0]).T)))
        tangent = fusion[min(near + 1, len(fusion) - 1)] - fusion[max(near - 1, 0)]
        step = curve[1] - curve[0]
        turns.append(abs(tangent @ step) / np.hypot(*tangent) / np.hypot(*step))
    assert np.median(turns) < np.sin(np.deg2rad(15))


def test_dots_lie_in_the_haz_alone() -> None:
    outline = example.outline()
    for band in haz_bands(outline):
        spots = stipple(band, 12.0, list(outline.weld))
        assert len(spots) > 20
        assert contains(band, spots).all()
        assert not contains(outline.weld[0], spots).any()


def test_doubtful_parts_are_dashed() -> None:
    def dashes(reading: Reading) -> int:
        return drawing_svg(reading).count('stroke-dasharray="2.4 1.6"')

    assert dashes(example.reading()) == 1
    assert dashes(others.bead()) == 0


def test_a_part_with_hardly_any_points_spoils_nothing() -> None:
    whole = example.outline()
    few = {
        "weld_face": replace(whole.boundaries["weld_face"], points=np.zeros((0, 2)), sd=np.zeros(0)),
        "fusion_line_1": replace(whole.boundaries["fusion_line_1"], points=np.array([[5.0, 5.0]]), sd=np.ones(1)),
        "haz_edge_1": replace(whole.boundaries["haz_edge_1"], points=np.array([[5.0, 5.0]] * 3), sd=np.ones(3)),
        "surface_1": replace(whole.boundaries["surface_1"], points=np.array([[5.0, 5.0], [9.0, 5.0]]), sd=np.ones(2)),
    }
    reading = example.reading(outline=replace(whole, boundaries=few, weld=()))
    assert "leg 1: 6.20 mm" in {item.text for item in texts(drawing_svg(reading))}
    assert "leg 1: 6.20 mm" in overlay_svg(reading, example.picture())
