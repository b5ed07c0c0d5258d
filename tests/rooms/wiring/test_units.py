"""Amounts in any common unit, against figures from outside: exact definitions of inch, foot, psi and °F."""

import pytest

from etchbook.usecases import RefusedError
from etchbook.wiring.units import amount


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("5.6m/min", "m/min", 5.6),
        ("220ipm", "m/min", 220 * 0.0254),
        ("220 in/min", "m/min", 5.588),
        ("30cm/min", "mm/s", 5.0),
        ("12in/min", "mm/s", 5.08),
        ("3/16in", "mm", 4.7625),
        ("1 1/4 in", "mm", 31.75),
        ('1/2"', "mm", 12.7),
        ("8", "V", 8.0),
        ("18,5", "V", 18.5),
        ("-10°", "°", -10.0),
        ("30cfh", "L/min", 30 * 28.316846592 / 60),
        ("14 l/min", "L/min", 14.0),
        ("14L/min", "L/min", 14.0),
        ("68F", "°C", 20.0),
        ("68 °F", "°C", 20.0),
        ("293.15K", "°C", 20.0),
        ("-40F", "°C", -40.0),
        ("2200psi", "bar", 2200 * 0.0689475729),
        ("1.5min", "s", 90.0),
        ("40 %", "%", 40.0),
        ("1e1mm", "mm", 10.0),
    ],
)
def test_amounts(typed: str, unit: str, value: float) -> None:
    found = amount(typed, unit, "it")
    assert found.value == pytest.approx(value, rel=1e-8) and found.u is None


@pytest.mark.parametrize(
    ("typed", "unit", "u"),
    [
        ("18.5±0.3V", "V", 0.3),
        ("18.5 +- 0.3 V", "V", 0.3),
        ("1±0.1in", "mm", 2.54),
        ("68±9F", "°C", 5.0),
        ("20±2K", "°C", 2.0),
    ],
)
def test_uncertainties_go_with_the_unit(typed: str, unit: str, u: float) -> None:
    assert amount(typed, unit, "it").u == pytest.approx(u)


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("30", "mm/s", "needs its unit, like 30cm/min"),
        ("20", "°C", "needs its unit"),
        ("8", "mm", "needs its unit"),
        ("1,000", "V", "may mean two things"),
        ("5kg", "mm", 'cannot be in "kg"'),
        ("5 foo", "mm", "is no unit"),
        ("abc", "mm", "must be a number"),
        ("", "mm", "must be a number"),
        ("5 5", "V", "must be one number|must be a number|is no unit"),
        ("1e999mm", "mm", "finite"),
        ("nanV", "V", "must be a number"),
        ("5/0in", "mm", "divided by 0"),
        ("5±-1V", "V", "must not be negative"),
        ("20m", "°C", "is a temperature"),
        ("__import__('os')", "mm", "must be a number"),
        ("5 __import__('os')", "mm", "is no unit"),
    ],
)
def test_what_is_no_amount_is_refused_in_one_sentence(typed: str, unit: str, said: str) -> None:
    with pytest.raises(RefusedError, match=said) as refused:
        amount(typed, unit, "travel")
    assert "\n" not in str(refused.value)
