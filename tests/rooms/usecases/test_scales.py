"""What a person may type for a scale, and what is refused."""

import pytest

from etchbook.usecases import RefusedError
from etchbook.usecases.painting import picture_size
from etchbook.usecases.scales import (
    BarScale,
    GivenScale,
    PointsScale,
    RuleScale,
    ScaleWish,
    ThicknessScale,
    scale_wish,
)


@pytest.mark.parametrize(
    ("source", "wish"),
    [
        ("rule", RuleScale()),
        ("rule=1mm", RuleScale(pitch_mm=1.0)),
        ("rule=0.5", RuleScale(pitch_mm=0.5)),
        ("rule=1/64in", RuleScale(pitch_mm=0.396875)),
        ("rule=1/32", RuleScale(pitch_mm=0.79375)),
        ("rule=1/2mm", RuleScale(pitch_mm=0.5)),
        ("bar=0.1", BarScale(length_mm=0.1)),
        ("bar=0.1mm", BarScale(length_mm=0.1)),
        ("thickness_1=8", ThicknessScale(member=1, mm=8.0)),
        ("thickness_2=6.02±0.01", ThicknessScale(member=2, mm=6.02, u_mm=0.01)),
        ("thickness_2=6.02+-0.01", ThicknessScale(member=2, mm=6.02, u_mm=0.01)),
        ("points=1,2,3.5,4,25", PointsScale(first=(1, 2), second=(3.5, 4), length_mm=25)),
    ],
)
def test_sources(source: str, wish: ScaleWish) -> None:
    assert scale_wish(None, None, source) == wish


def test_a_given_scale() -> None:
    assert scale_wish("41.2", None, None) == GivenScale(px_per_mm=41.2)
    assert scale_wish("41.2", "0.2", None) == GivenScale(px_per_mm=41.2, u=0.2)


def test_without_a_word_a_rule_is_tried_and_nothing_assumed() -> None:
    assert scale_wish(None, None, None) == RuleScale(asked=False)


@pytest.mark.parametrize(
    ("given", "u", "source", "said"),
    [
        ("0", None, None, "more than 0"),
        ("-3", None, None, "more than 0"),
        ("nan", None, None, "finite"),
        ("inf", None, None, "finite"),
        ("forty", None, None, "number"),
        ("40", "-1", None, "at least 0"),
        ("40", None, "rule", "twice"),
        (None, "0.1", None, "--scale-u belongs to"),
        (None, None, "thumb", "not a place"),
        (None, None, "bar", "not a place"),
        (None, None, "thickness_3=8", "not a place"),
        (None, None, "thickness_1=0", "more than 0"),
        (None, None, "rule=1/0in", "more than 0"),
        (None, None, "rule=1cm", "distance of two graduations"),
        (None, None, "points=1,2,3,4", "five numbers"),
        (None, None, "points=1,2,1,2,9", "one and the same"),
        (None, None, "points=1,2,3,4,0", "more than 0 mm"),
        (None, None, "points=1,2,3,x,4", "must be a number"),
    ],
)
def test_refused(given: str | None, u: str | None, source: str | None, said: str) -> None:
    with pytest.raises(RefusedError, match=said):
        scale_wish(given, u, source)


def test_sizes() -> None:
    assert picture_size("1600x1200") == (1600, 1200)
    assert picture_size("8000 X 6000") == (8000, 6000)
    for wrong in ("1600", "x", "100x100", "9000x9000", "-5x400", "1e3x500"):
        with pytest.raises(RefusedError):
            picture_size(wrong)
