"""Plots on squared paper: whole SVG, round axes, nothing invented."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest

from etchbook.procedure.heat_flow import Coupon, history, plan_isotherms, section_isotherms
from etchbook.report.heatplots import history_svg, plan_svg, section_svg
from etchbook.report.plots import SQUARE, Curve, Mark, Plot, plot_svg

COUPON = Coupon(
    length=100,
    width=60,
    thickness=6,
    conductivity=30,
    capacity=5,
    melting=1500,
    haz_edge=730,
    start=20,
    loss=25,
    power=2280,
    travel=5,
    bead_start=10,
    bead_length=80,
)


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]


def line(*points: tuple[float, float]) -> Curve:
    return Curve(points=np.array(points), words="a & b <c>")


def test_a_plot_is_one_whole_document_with_its_words() -> None:
    svg = plot_svg(Plot(title="T", x_words="x, mm", y_words="y, mm", curves=(line((0, 0), (10, 4)),)))
    assert {"T", "x, mm", "y, mm", "a & b <c>"} <= set(texts(svg))
    root = ElementTree.fromstring(svg)
    assert root.find("{http://www.w3.org/2000/svg}title") is not None
    assert root.find("{http://www.w3.org/2000/svg}desc") is not None


def test_ticks_are_round_and_hold_all_that_is_drawn() -> None:
    svg = plot_svg(Plot(title="T", x_words="x", y_words="y", curves=(line((-3.3, 17.0), (41.0, 96.0)),)))
    numbers = sorted(float(text.replace("−", "-")) for text in texts(svg) if re.fullmatch(r"[−\d.]+", text))
    assert numbers[0] <= -3.3 and numbers[-1] >= 96.0
    assert all(number == round(number, 1) for number in numbers)


def test_equal_axes_draw_a_square_square() -> None:
    box = line((0, 0), (8, 0), (8, 8), (0, 8), (0, 0))
    svg = plot_svg(Plot(title="T", x_words="x", y_words="y", curves=(box,), equal=True))
    path = next(part for part in re.findall(r'd="(M[^"]+)"', svg) if part.count("L") == 4)
    points = np.array([[float(n) for n in pair.split()] for pair in re.split("[ML]", path)[1:]])
    assert np.ptp(points[:, 0]) == pytest.approx(np.ptp(points[:, 1]))
    assert np.ptp(points[:, 0]) % SQUARE == pytest.approx(0)


def test_marks_carry_their_spread_and_nothing_at_all_is_still_a_plot() -> None:
    svg = plot_svg(Plot(title="T", x_words="x", y_words="y", marks=(Mark(x=1, y=2, words="m", spread=0.5),)))
    assert "m" in texts(svg) and "circle" in svg
    ElementTree.fromstring(plot_svg(Plot(title="T", x_words="x", y_words="y")))


def test_the_history_never_tells_a_temperature_above_melting() -> None:
    svg = history_svg(COUPON, [history(COUPON, 0.0, 0.0), history(COUPON, 6.0, 0.0)])
    told = texts(svg)
    assert any("molten" in text for text in told)
    peaks = [int(found[1]) for text in told if (found := re.search(r"peak (\d+) °C", text))]
    assert peaks and max(peaks) < 1500


def test_plan_and_section_say_that_they_are_conduction_only() -> None:
    for svg in (plan_svg(COUPON, plan_isotherms(COUPON, (730.0, 1500.0))),
                section_svg(COUPON, section_isotherms(COUPON, (730.0, 1500.0)))):  # fmt: skip
        told = " ".join(texts(svg))
        assert "Conduction only" in told and "1500 °C" in told and "730 °C" in told


def test_names_of_points_keep_off_the_other_points() -> None:
    marks = (Mark(x=6.0, y=1.08, words="N2-03"), Mark(x=7.0, y=1.17, words="N2-04", ring=True),
             Mark(x=20.0, y=0.24, words="N2-02"))  # fmt: skip
    svg = plot_svg(Plot(title="Convexity", x_words="°C", y_words="mm", marks=marks, width=16, height=11))
    found = ElementTree.fromstring(svg)
    points = [
        (float(one.get("cx", "")), float(one.get("cy", ""))) for one in found.iter() if one.tag.endswith("circle")
    ]
    named = [one for one in found.iter() if one.tag.endswith("text") and str(one.text).startswith("N2-")]
    assert len(points) == 3 and len(named) == 3
    for one in named:
        x, y = float(one.get("x", "")), float(one.get("y", ""))
        left = x - 8 if one.get("text-anchor") == "end" else x  # five signs of 3.1 mm type are about 8 mm wide
        for across, down in points:
            inside = left - 0.5 < across < left + 8 and y - 2.4 < down < y + 0.5
            assert not inside, f"{one.text} lies on the point at {across:.1f}, {down:.1f}"
    rings = [one for one in found.iter() if one.tag.endswith("circle") and one.get("stroke")]
    assert len(rings) == 1


@pytest.mark.parametrize("thickness", [6, 8, 16])
def test_each_temperature_stands_on_its_own_line(thickness: float) -> None:
    coupon = COUPON.but(thickness=float(thickness))
    isotherms = section_isotherms(coupon, (300.0, 500.0, 730.0, 800.0, 1200.0, 1500.0))
    svg = section_svg(coupon, isotherms)
    found = ElementTree.fromstring(svg)
    named = {
        float(str(one.text)[:-3]): (float(one.get("x", "")), float(one.get("y", "")) - 1)
        for one in found.iter()
        if one.tag.endswith("text") and str(one.text).endswith(" °C")
    }
    lines = {one.level: np.concatenate(one.lines) for one in isotherms if one.lines}
    for level, (x, y) in named.items():
        # Millimetres of the plate: 12 to the left of the bead, and one square of 5 mm of paper to the millimetre.
        at = np.array([x / SQUARE - 12, y / SQUARE])
        away = {other: float(np.hypot(*(line - at).T).min()) for other, line in lines.items()}
        assert min(away, key=lambda other: away[other]) == level, f"{level:g} °C stands at another line"
