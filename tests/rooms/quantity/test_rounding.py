"""What is printed."""

import pytest

from etchbook.quantity import Absent, Measured, rounded, spoken


@pytest.mark.parametrize(
    ("value", "u", "printed"),
    [
        (5.3164, 0.0371, ("5.32", "0.08")),
        (12.34, 1.2, ("12.3", "2.4")),
        (12.34, 0.5, ("12.3", "1.0")),
        (12.34, 0.15, ("12.3", "0.3")),
        (1234.0, 15.5, ("1230", "40")),
        (0.0, 0.0, ("0.000", "0.000")),
        (8.0, 0.0, ("8.000", "0.000")),
        (-0.0004, 0.02, ("0.00", "0.04")),
        (0.1, 0.149, ("0.10", "0.30")),
    ],
)
def test_value_and_uncertainty_end_at_the_same_place(value: float, u: float, printed: tuple[str, str]) -> None:
    assert rounded(Measured(value=value, u=u, unit="mm")) == printed


def test_spoken_puts_the_unit_where_the_trade_puts_it() -> None:
    assert spoken(Measured(value=5.3164, u=0.0371, unit="mm")) == "5.32 ± 0.08 mm"
    assert spoken(Measured(value=135.2, u=0.8, unit="°")) == "135.2 ± 1.6°"
    assert spoken(Measured(value=0.312, u=0.004, unit="")) == "0.312 ± 0.008"
    assert spoken(Absent(reason="the toe lies outside the picture")) == "not read: the toe lies outside the picture"
