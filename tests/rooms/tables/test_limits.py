"""The packaged sets: complete, sourced, and printed formulas that can be used."""

import pytest

from etchbook.tables import Limit, TablesError, formula, limit_sets, load_limits
from etchbook.terms import DIMENSIONS, FAMILIES

EVERY = [(name, row) for name in limit_sets() for row in load_limits(name).limits]


def row_of(name: str, row_id: str) -> Limit:
    return next(row for row in load_limits(name).limits if row.id == row_id)


def test_the_sets_that_are_asked_for_are_there() -> None:
    wanted = {"iso-5817:B", "iso-5817:C", "iso-5817:D", "iso-15614-1:1", "iso-15614-1:2"}
    assert wanted <= set(limit_sets())
    assert any(name.startswith("aws-d1.1") for name in limit_sets())
    assert any(name.startswith("asme-ix") for name in limit_sets())


def test_an_unknown_set_is_refused() -> None:
    with pytest.raises(TablesError, match="no set of limits"):
        load_limits("iso-5817:A")


@pytest.mark.parametrize(("name", "row"), EVERY, ids=lambda value: value if isinstance(value, str) else value.id)
def test_every_row_is_sourced_and_can_be_used(name: str, row: Limit) -> None:
    assert row.source and row.edition and row.clause and row.title
    assert row.status in ("seen", "from memory")
    assert set(row.dimensions) <= set(DIMENSIONS) and set(row.families) <= set(FAMILIES)
    assert row.dimensions or row.needs or row.rule == "permitted"
    assert row.rule or row.least or row.most or row.needs
    stands_for = dict(row.names)
    for text in (row.least, row.most, row.of, row.if_short):
        for used in formula(text).names if text else ():
            assert used == "x" or used in stands_for, (name, row.id, used)
    for used in formula(row.when, condition=True).names if row.when else ():
        assert used in stands_for


def test_ids_are_unique_in_a_set_and_bands_stand_together() -> None:
    for name in limit_sets():
        rows = load_limits(name).limits
        assert len({row.id for row in rows}) == len(rows)
        items = [row.item for row in rows]
        runs = [item for index, item in enumerate(items) if index == 0 or items[index - 1] != item]
        assert len(runs) == len(set(runs)), name


@pytest.mark.parametrize("name", limit_sets())
@pytest.mark.parametrize("at", [0.5, 1.0, 3.0, 3.01, 6.0, 6.01, 8.0, 12.0, 20.0, 25.0, 25.1, 80.0])
def test_bands_of_an_item_cover_every_size_once(name: str, at: float) -> None:
    rows = [row for row in load_limits(name).limits if row.when]
    for item in {row.item for row in rows} - {"multiple"}:
        bands = [row for row in rows if row.item == item]
        holding = [row.id for row in bands if formula(row.when, condition=True).holds(dict.fromkeys("tLW", at))]
        assert len(holding) == 1, (item, at, holding)


def test_levels_tighten_from_d_to_b() -> None:
    numbers = dict.fromkeys("tab", 6.0)
    for row in load_limits("iso-5817:B").limits:
        others = [row_of(f"iso-5817:{level}", row.id) for level in "CD"]
        found = [_reach(each, numbers) for each in (row, *others)]
        assert found == sorted(found), row.id


def _reach(row: Limit, numbers: dict[str, float]) -> float:
    """How much a row lets through."""
    if row.rule == "permitted":
        return float("inf")
    if row.least:
        return -formula(row.least).value(numbers)
    if not row.most:
        return 0.0
    return min(formula(row.most).value(numbers), float(row.cap or "inf"))


def test_iso_15614_level_2_takes_some_items_from_level_c() -> None:
    # ISO 15614-1:2017 Table 4: level B, but 5011/5012, 502, 503, 504, 505 and 5214 at level C
    c_items = {"5011, 5012", "502", "503", "504", "505", "5214"}
    for row in load_limits("iso-15614-1:2").limits:
        level = "C" if row.reference in c_items else "B"
        same = row_of(f"iso-5817:{level}", row.id)
        assert (row.least, row.most, row.cap, row.rule, row.short) == (
            same.least,
            same.most,
            same.cap,
            same.rule,
            same.short,
        )
        assert f"level {level}" in row.clause
