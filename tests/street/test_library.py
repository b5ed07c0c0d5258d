"""From Python, as docs/library.md walks through it."""

import ast
import re
from pathlib import Path

import pytest

import etchbook

PAGE = Path(__file__).resolve().parents[2] / "docs" / "library.md"


def test_the_page_uses_only_names_that_are_there() -> None:
    blocks = re.findall(r"```python\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.S)
    assert len(blocks) >= 7
    used = {
        node.attr
        for block in blocks
        for node in ast.walk(ast.parse(block))
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "etchbook"
    }
    assert {"read", "judge", "paint", "Mark"} <= used <= set(etchbook.__all__)


def test_the_walk_through(tmp_path: Path) -> None:
    section = next(etchbook.paint("tee", seed=7, width=640, height=480, difficulty="plain"))
    reading = etchbook.read(section.picture, joint="tee", px_per_mm=section.truth.px_per_mm, u_px_per_mm=0.1)
    assert isinstance(reading.dimensions["leg_1"], etchbook.Measured | etchbook.Absent)
    judgement = etchbook.judge(reading, against="iso-5817:B")
    assert sum(judgement.counts.values()) == len(judgement.findings) > 0
    kept = reading.save(tmp_path / "r.json", judgement)
    again = etchbook.judge(kept, against="iso-5817:B")
    assert [finding.verdict for finding in again.findings] == [finding.verdict for finding in judgement.findings]
    assert reading.save(tmp_path / "look.overlay.png").stat().st_size > 1000
    assert "<svg" in reading._repr_html_()


def test_a_scale_that_is_none_is_refused() -> None:
    section = next(etchbook.paint("bead", seed=1, width=320, height=240))
    for wrong in (0, -1.0, float("nan")):
        with pytest.raises(etchbook.RefusedError, match="scale"):
            etchbook.read(section.picture, joint="bead", px_per_mm=wrong)
    with pytest.raises(etchbook.RefusedError, match="mortise"):
        etchbook.read(section.picture, joint="mortise")
