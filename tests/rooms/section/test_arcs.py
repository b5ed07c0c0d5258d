"""Cutting a weld's contour into face and fusion line, on guesses laid out by hand."""

import numpy as np
import pytest

from etchbook.section.arcs import find_arcs
from etchbook.section.guess import Guess
from etchbook.terms import FAMILIES

TOP, BACK = 40, 90


def laid_out(weld: np.ndarray, toes: tuple[tuple[int, int], ...] = ()) -> Guess:
    """Two plates between TOP and BACK with this weld between them, and the net sure of toes at (row, column)."""
    rows, columns = np.mgrid[0:128, 0:128]
    plate = (rows >= TOP) & (rows < BACK) & ~weld
    share = np.zeros((6, 128, 128), np.float32)
    share[5][weld] = 1
    share[1][plate & (columns < 64)] = share[2][plate & (columns >= 64)] = 1
    share[0] = 1 - share.sum(axis=0)
    heat = np.zeros((4, 128, 128), np.float32)
    for which, (row, column) in enumerate(toes):
        heat[which, row - 2 : row + 3, column - 2 : column + 3] = 1
    chance = dict.fromkeys(FAMILIES, 0.2)
    return Guess(share=share, heat=heat, joint=chance, left=0.0, top=0.0, factor=1.0)


def test_face_of_a_butt_is_the_wider_side_though_the_root_bead_has_the_longer_contour() -> None:
    rows, columns = np.mgrid[0:128, 0:128]
    half = np.where(rows < BACK, 30 - 18 * (rows - TOP) / (BACK - TOP), 12)
    weld = (rows >= TOP) & (rows < 118) & (np.abs(columns - 64) < half)
    arcs = find_arcs(laid_out(weld), "butt")
    assert arcs is not None
    assert arcs.face[:, 1] == pytest.approx(TOP - 0.5, abs=2.0)
    assert np.ptp(arcs.face[:, 0]) == pytest.approx(59, abs=4)


def test_toes_of_an_earlier_look_count_where_this_one_took_the_face_for_shorter() -> None:
    rows, columns = np.mgrid[0:128, 0:128]
    weld = (columns - 64) ** 2 / 40**2 + (rows - TOP) ** 2 / 20**2 < 1
    whole = find_arcs(laid_out(weld, ((TOP, 24), (TOP, 104))), "bead")
    shadowed = laid_out(weld, ((TOP, 24), (TOP, 104)))
    stripe = (rows < TOP - 8) & (columns > 60) & (columns < 75) & ~weld
    shadowed.share[1][stripe], shadowed.share[0][stripe] = 1, 0
    shadowed.heat[0] = 0.5 * shadowed.heat[0] + shadowed.heat[1]
    assert whole is not None
    alone, after = find_arcs(shadowed, "bead"), find_arcs(shadowed, "bead", whole)
    assert alone is not None
    assert after is not None
    assert np.ptp(alone.face[:, 0]) < 50
    assert np.ptp(after.face[:, 0]) == pytest.approx(80, abs=4)
