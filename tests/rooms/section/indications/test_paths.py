"""The way through a map of cells that gathers most."""

import numpy as np

from etchbook.section.indications.paths import Path, best_way, joined, strong_ways


def test_the_way_follows_a_slanting_line_from_end_to_end() -> None:
    gain = np.full((20, 30), -1.0, np.float32)
    rows = np.array([5 + k // 4 for k in range(10, 26)])
    gain[rows, np.arange(10, 26)] = 2.0
    way = best_way(gain)
    assert way.first == 10 and len(way.rows) == 16 and np.array_equal(way.rows, rows)
    # 16 cells at 2 each, less three moves at 0.35.
    assert abs(way.score - (32 - 0.35 * (rows[-1] - rows[0]))) < 1e-4


def test_a_short_break_is_passed_and_a_long_one_is_not() -> None:
    gain = np.full((7, 60), -1.0, np.float32)
    gain[3, 2:20] = gain[3, 23:40] = 2.0
    assert len(best_way(gain).rows) == 38
    gain[3, 23:40], gain[3, 58:] = -1.0, 2.0
    assert len(best_way(gain).rows) == 18


def test_what_was_found_is_blotted_out() -> None:
    gain = np.full((30, 40), -1.0, np.float32)
    gain[5, :], gain[20, 10:30] = 2.0, 2.0
    ways = list(strong_ways(gain, 10.0, most=9, reach=3))
    assert [int(way.rows[0]) for way in ways] == [5, 20] and [len(way.rows) for way in ways] == [40, 20]
    assert list(strong_ways(np.full((9, 9), -0.1, np.float32), 1.0, most=3, reach=1)) == []


def test_ways_that_carry_on_are_joined() -> None:
    one, far = (Path(first=first, rows=np.full(10, 4), score=9.0) for first in (0, 40))
    beside = Path(first=14, rows=np.full(10, 5), score=9.0)
    found = joined([one, far, beside])
    assert [(way.first, len(way.rows)) for way in found] in ([(0, 50)], [(0, 24), (40, 10)])
    apart = Path(first=14, rows=np.full(10, 15), score=9.0)
    assert len(joined([one, apart])) == 2
