"""Where the measured lines lie, against the geometry of the hand-made sections."""

import numpy as np
import pytest

from etchbook.quantity import Measured
from etchbook.report.strokes import measured_lines
from etchbook.section import Reading
from rooms.report import example, others


def lengths(reading: Reading, px_per_mm: float) -> dict[str, float]:
    return {line.id: float(np.hypot(*(line.end - line.start))) / px_per_mm for line in measured_lines(reading)}


BY_HAND = {
    "leg_1": 6.2,
    "leg_2": 5.6,
    "nominal_throat": 4.36,
    "root_penetration": 0.778,
    "penetration_1": 1.3,
    "penetration_2": 1.05,
    "thickness_1": 8.0,
    "thickness_2": 6.0,
}


@pytest.mark.parametrize("degrees", [None, 0.0, 25.0, 170.0, 301.0])
def test_lines_are_as_long_as_they_say_however_the_section_lies(degrees: float | None) -> None:
    found = lengths(example.reading() if degrees is None else others.turned(degrees), example.PX)
    for name, value in BY_HAND.items():
        assert found[name] == pytest.approx(value, abs=0.02), name


def test_a_leg_runs_from_the_root_to_the_toe() -> None:
    leg = next(line for line in measured_lines(example.reading()) if line.id == "leg_1")
    assert leg.start == pytest.approx([420.0, 430.0])
    assert leg.end == pytest.approx([668.0, 430.0])
    assert leg.words == "leg 1: 6.20 mm"


def test_the_throat_halves_the_joint_angle() -> None:
    throat = next(line for line in measured_lines(example.reading()) if line.id == "nominal_throat")
    across, up = throat.end - throat.start
    assert across == pytest.approx(-up)
    assert across == pytest.approx(4.36 * 40 / np.sqrt(2))


def test_what_is_not_certain_to_be_there_is_not_drawn() -> None:
    assert "undercut_1" not in lengths(example.reading(), 40.0)
    small = example.reading().dimensions | {"leg_1": Measured(value=0.05, u=0.04, unit="mm")}
    assert "leg_1" not in lengths(example.reading(dimensions=small), 40.0)
    assert lengths(example.reading(scaled=False), 40.0) == {}
    assert lengths(others.nothing(), 40.0) == {}


def test_a_line_that_does_not_fit_its_value_is_left_out() -> None:
    wrong = example.reading().dimensions | {"leg_1": Measured(value=4.0, u=0.04, unit="mm")}
    found = lengths(example.reading(dimensions=wrong), example.PX)
    assert "leg_1" not in found and "leg_2" in found


def test_a_hollow_face_is_measured_on_its_hollow_side() -> None:
    known = example.reading().dimensions | {"convexity": Measured(value=-0.59, u=0.05, unit="mm")}
    assert "convexity" not in lengths(example.reading(dimensions=known), example.PX)


def test_bead_and_butt() -> None:
    bead, butt = lengths(others.bead(), others.PX), lengths(others.butt(), others.PX)
    assert bead == pytest.approx(
        {"weld_width": 8.0, "excess_weld_metal": 1.6, "penetration_1": 2.4, "thickness_1": 10.0, "haz_width_1": 1.6},
        abs=0.1,
    )
    wanted = {"weld_width": 9.0, "excess_weld_metal": 1.2, "root_width": 4.0, "excess_penetration": 0.8}
    assert {name: butt[name] for name in wanted} == pytest.approx(wanted, abs=0.01)
    assert butt["thickness_2"] == pytest.approx(8.0)
