"""What is printed."""

import pytest

from etchbook.acceptance import Verdict, judge
from etchbook.cli import show
from etchbook.tables import load_limits
from rooms.report.example import reading


def test_every_verdict_has_its_place() -> None:
    assert set(show.ATTENTION) == {str(verdict) for verdict in Verdict}


def test_every_dimension_is_told_with_its_value_or_its_reason(capsys: pytest.CaptureFixture[str]) -> None:
    show.reading(reading())
    lines = capsys.readouterr().out.splitlines()
    told = {cells[4]: cells for cells in (line.split("\t") for line in lines) if len(cells) == 6}
    assert set(reading().dimensions) <= set(told)
    for name in reading().dimensions:
        cells = told[name]
        assert bool(cells[5]) == (cells[1] == "not read")


def test_what_asks_for_attention_comes_first(capsys: pytest.CaptureFixture[str]) -> None:
    held = judge(reading(), load_limits("iso-5817:B"))
    show.judgement(held)
    lines = [line.split("\t") for line in capsys.readouterr().out.splitlines()]
    verdicts = [cells[0] for cells in lines if len(cells) == 4][1:]
    assert len(verdicts) == len(held.findings)
    assert verdicts == sorted(verdicts, key=show.ATTENTION.index)
