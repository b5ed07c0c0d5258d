"""How sharply a printed figure is checked."""

import pytest

from etchbook.tables.checks import half_place


@pytest.mark.parametrize(
    ("printed", "half"),
    [("1.90", 0.005), ("3", 0.5), ("-0.1712", 0.00005), ("1.1010e-4", 0.00005e-4), ("127.732", 0.0005)],
)
def test_half_the_last_printed_place(printed: str, half: float) -> None:
    assert half_place(printed) == pytest.approx(half, rel=1e-6)


def test_words_are_checked_exactly() -> None:
    assert half_place("only if short") == 0.0
