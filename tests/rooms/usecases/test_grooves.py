"""A preparation as it is typed."""

import pytest

from etchbook.joint import Groove
from etchbook.usecases import RefusedError
from etchbook.usecases.grooves import assumed, bare, fitting, groove_from, spoken_groove
from etchbook.usecases.reading import JointWish, with_groove
from etchbook.wiring.units import amount

VEE = Groove(gap=2.0, u_gap=0.2, angle=60.0, root_face=1.0)


def test_bare_numbers_are_millimetres_and_degrees_where_the_place_says_so() -> None:
    assert groove_from("2±0.2", "60", "1", None, bare(amount)) == VEE
    assert groove_from("2±0.2mm", "60°", "1 mm", "both", amount) == VEE
    assert groove_from("1/8in", "0", None, None, bare(amount)) == Groove(gap=3.175, angle=0.0)
    assert groove_from(None, None, None, None, amount) is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("-1", None, None, None), "between 0 and 100 mm"),
        (("2", "200", None, None), "between 0 and 170 °"),
        (("2", "0", "1", None), "square edges"),
        (("2", "0", None, "1"), "groove angle"),
        ((None, None, None, "1"), "groove angle"),
        (("2", "60", "1", "left"), "both, 1 or 2"),
        (("wide", None, None, None), "root gap must be a number"),
        (("2kg", None, None, None), "root gap"),
    ],
)
def test_what_makes_no_sense_is_refused(words: tuple[str | None, ...], said: str) -> None:
    with pytest.raises(RefusedError, match=said):
        groove_from(*words, convert=bare(amount))  # type: ignore[misc]


def test_only_a_butt_has_one_and_it_is_stated_once() -> None:
    with pytest.raises(RefusedError, match="tee joint"):
        fitting(VEE, "tee")
    assert fitting(VEE, "butt") == VEE and fitting(None, "tee") is None
    assert with_groove(JointWish(), VEE).groove == VEE
    with pytest.raises(RefusedError, match="stated twice"):
        with_groove(JointWish(groove=Groove(gap=1.0)), VEE)


def test_what_is_taken_for_the_uncertainty_is_said() -> None:
    (words,) = assumed(VEE)
    assert "2.5° for the groove angle, 0.3 mm for the root face" in words and "gap" not in words
    assert assumed(Groove(gap=2.0, u_gap=0.0)) == () == assumed(None)


def test_it_is_told_as_a_drawing_names_it() -> None:
    assert spoken_groove(VEE) == "groove angle 60°, root face 1 mm, root gap 2 mm"
    assert spoken_groove(Groove(gap=0.0, angle=0.0)) == "square edges, root gap 0 mm"
    assert spoken_groove(Groove(angle=45.0, bevelled="2")) == "groove angle 45°, all of it on plate 2"
