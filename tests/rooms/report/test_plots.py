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
