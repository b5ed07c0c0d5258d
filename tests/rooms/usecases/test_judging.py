"""Limits by name or from a person's own file, and what is no risk."""

import pytest

from etchbook.usecases import RefusedError
from etchbook.usecases.judging import accepted_risk, judge, limits_for
from rooms.report.example import reading


class OneText:
    """A desk that holds one text and nothing else."""

    def __init__(self, text: str = "") -> None:
        self.held = text
        self.asked: list[str] = []

    def text(self, path: str) -> str:
        self.asked.append(path)
        return self.held

    photo = marks = original = keep = None  # type: ignore[assignment]


def test_a_packaged_set_needs_no_file() -> None:
    desk = OneText()
    assert limits_for(" ISO-5817:b ", desk).name == "iso-5817:B"  # type: ignore[arg-type]
    assert desk.asked == []


def test_own_limits_come_from_the_desk() -> None:
    desk = OneText('title = "bay sheet"\n[leg_1]\nleast = 6.0\n')
    held = judge(reading(), limits_for("own.toml", desk))  # type: ignore[arg-type]
    assert desk.asked == ["own.toml"]
    # The example's leg on member 1 is 6.2 with u 0.041: almost five standard uncertainties above 6.
    assert [str(finding.verdict) for finding in held.findings] == ["met"]


def test_an_unknown_set_is_refused_with_the_known_ones() -> None:
    with pytest.raises(RefusedError, match="iso-5817:B"):
        limits_for("iso-5817", OneText())  # type: ignore[arg-type]


@pytest.mark.parametrize("risk", [0.0, -0.1, 0.51, float("nan")])
def test_what_is_no_risk(risk: float) -> None:
    with pytest.raises(RefusedError, match="risk"):
        accepted_risk(risk)
