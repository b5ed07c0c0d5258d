"""The little arithmetic: what it comes to, how it prints itself, what it refuses."""

import pytest

from etchbook.tables import TablesError, formula


@pytest.mark.parametrize(
    ("text", "numbers", "expected"),
    [
        ("1 + 0.1 * b", {"b": 9.0}, 1.9),
        ("2 + 3 * 4", {}, 14.0),
        ("(2 + 3) * 4", {}, 20.0),
        ("8 / 4 / 2", {}, 1.0),
        ("-a - -2", {"a": 5.0}, -3.0),
        ("min(3, t)", {"t": 2.5}, 2.5),
        ("max(1, t, 4)", {"t": 2.5}, 4.0),
        ("abs(x)", {"x": -1.2}, 1.2),
    ],
)
def test_comes_to(text: str, numbers: dict[str, float], expected: float) -> None:
    assert formula(text).value(numbers) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "numbers", "expected"),
    [
        ("1 + 0.1 * b", {"b": 9.0}, "1 + 0.1 × 9.00"),
        ("a - (b - 1)", {"a": 5.0, "b": 4.4}, "5.00 − (4.40 − 1)"),
        ("(a + 1) * 2", {"a": 5.0}, "(5.00 + 1) × 2"),
        ("a / (b * 2)", {"a": 5.0, "b": 2.0}, "5.00 ÷ (2.00 × 2)"),
        ("min(3, t)", {"t": 6.0}, "the smaller of 3 and 6.00"),
        ("2 * min(3, t)", {"t": 6.0}, "2 × (the smaller of 3 and 6.00)"),
    ],
)
def test_prints_itself(text: str, numbers: dict[str, float], expected: str) -> None:
    assert formula(text).printed(numbers) == expected


@pytest.mark.parametrize(
    "text",
    [
        "__import__('os')",
        "a.b",
        "a[0]",
        "a ** b",
        "lambda: 1",
        "'text'",
        "1 if a else 2",
        "True",
        "min(1)",
        "min(1, key=2)",
        "abs(1, 2)",
        "print(1)",
        "1 +",
        "",
        "1e300",
        "1j",
        "a < 3",
        "(" * 90 + "1" + ")" * 90 + "+1" * 60,
    ],
)
def test_refuses_what_is_not_arithmetic(text: str) -> None:
    with pytest.raises(TablesError) as refusal:
        formula(text)
    assert "\n" not in str(refusal.value)


def test_conditions_keep_their_edges() -> None:
    thin, thick = (formula(text, condition=True) for text in ("0.5 <= t <= 3", "t > 3"))
    assert thin.holds({"t": 3.0}) and not thick.holds({"t": 3.0})
    assert thin.holds({"t": 0.5}) and not thin.holds({"t": 0.49})
    assert thick.holds({"t": 3.0000001})


def test_room_is_the_distance_to_each_edge() -> None:
    assert formula("0.5 <= t <= 3", condition=True).room({"t": 2.0}) == pytest.approx((1.5, 1.0))


def test_a_condition_is_no_number_and_the_other_way_round() -> None:
    with pytest.raises(TablesError):
        formula("t", condition=True)
    with pytest.raises(TablesError):
        formula("t == 3", condition=True)


def test_division_by_zero_is_told() -> None:
    with pytest.raises(TablesError, match="divides by zero"):
        formula("1 / a").value({"a": 0.0})


def test_names_are_listed_once() -> None:
    assert formula("a + b * a").names == ("a", "b")
