"""Painted indications: where the truth says they are, and nowhere when none was asked for."""

import numpy as np
import pytest

from etchbook.simulate import LINE_KINDS, LineKind, LineSpec, paint_section, truth_document

SIZE = {"width": 640, "height": 480, "px_per_mm": 30.0, "difficulty": "plain"}
SPEC = LineSpec(kind="lamination", depth_fraction=0.4, share=0.6, width=0.1, contrast=0.8)


def test_without_lines_the_picture_is_the_same_as_ever() -> None:
    plain, none = paint_section("tee", 4, **SIZE), paint_section("tee", 4, **SIZE, lines=())
    assert np.array_equal(plain.picture.rgb, none.picture.rgb) and plain.truth.lines == ()
    assert "lines" not in truth_document(plain)


def test_a_line_changes_the_picture_only_where_it_lies() -> None:
    plain, lined = paint_section("bead", 3, **SIZE), paint_section("bead", 3, **SIZE, lines=[SPEC])
    line = lined.truth.lines[0]
    changed = np.abs(plain.picture.rgb.astype(int) - lined.picture.rgb).max(axis=2) > 12 * 257
    rows, columns = np.nonzero(changed)
    chain = np.concatenate(line.px)
    assert len(rows) > 50
    for x, y in zip(columns, rows, strict=True):
        # Blur and coding carry it a few pixels.
        assert np.hypot(*(chain - [x, y]).T).min() < 12
    assert np.array_equal(plain.labels, lined.labels) and lined.truth.dimensions == plain.truth.dimensions


def test_the_depth_told_is_the_depth_asked_for() -> None:
    truth = paint_section("bead", 3, **SIZE, lines=[SPEC]).truth.lines[0]
    assert truth.depth_fraction == pytest.approx(0.4, abs=1e-6)
    assert truth.share == pytest.approx(0.6, abs=0.02)


@pytest.mark.parametrize("kind", LINE_KINDS)
def test_every_kind_is_painted_the_same_every_time(kind: LineKind) -> None:
    one, two = (paint_section("tee", 20, **SIZE, lines=[kind]) for _ in range(2))
    assert np.array_equal(one.picture.rgb, two.picture.rgb)
    bare = paint_section("tee", 20, **SIZE)
    assert bool(one.truth.lines) == (not np.array_equal(one.picture.rgb, bare.picture.rgb))
