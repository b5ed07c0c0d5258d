"""Questions to the book go by its indexes: the database itself is asked how it would answer them."""

from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from etchbook.store import SqlStore, new_book
from etchbook.store import tables as t
from etchbook.store.looking import find_codes, picture_codes, touched_by, within
from etchbook.store.sql import _newest
from etchbook.trials.records import Book
from etchbook.usecases.keeping.ports import Query, Range

LARGE = ("editions", "heads", "words", "numbers", "pictures", "documents", "originals", "changes")


@pytest.fixture
def store(tmp_path: Path) -> SqlStore:
    return new_book(tmp_path / "book", Book(id="b", name="B"))


def plan(store: SqlStore, wish: sa.Select[Any]) -> list[str]:
    text = str(wish.compile(store.engine, compile_kwargs={"literal_binds": True}))
    with store.engine.connect() as db:
        return [str(row[-1]) for row in db.exec_driver_sql(f"EXPLAIN QUERY PLAN {text}")]


@pytest.mark.parametrize(
    "wish",
    [
        find_codes(Query(), ["worn"]),
        find_codes(Query(under="N1"), ["worn", "jig"]),
        find_codes(Query(ranges=(Range(name="volts", least=18.0, most=19.0),), kind="bead"), []),
        find_codes(Query(ranges=(Range(name="leg_1", most=3.0), Range(name="volts", least=30.0))), []),
        sa.select(sa.text("1")).select_from(sa.table("editions")).where(sa.column("change").in_(touched_by("N1-03"))),
        picture_codes("0" * 64),
    ],
    ids=["word", "words under a code", "range", "two ranges", "history", "bytes"],
)
def test_nothing_is_looked_through_from_end_to_end(store: SqlStore, wish: sa.Select[Any]) -> None:
    steps = plan(store, wish)
    through = [step for step in steps if step.startswith("SCAN") and any(name in step.split() for name in LARGE)]
    assert not through, steps
    store.close()


def test_a_few_things_are_not_found_by_walking_through_all_that_is_not_in_the_bin(store: SqlStore) -> None:
    wishes = [find_codes(Query(), ["worn"]), find_codes(Query(ranges=(Range(name="volts", least=18.0),)), [])]
    wishes += [_newest().where(within(t.heads.c.code, "N1-03"), t.heads.c.binned == "")]
    for wish in wishes:
        steps = plan(store, wish)
        assert not [step for step in steps if "heads_binned" in step], steps
    binned = plan(store, _newest().where(sa.text("heads.binned <> ''")).order_by(None))
    assert any("heads_binned" in step for step in binned), binned
    store.close()


def test_the_database_refuses_to_forget(store: SqlStore) -> None:
    with store.engine.begin() as db, pytest.raises(sa.exc.IntegrityError, match="append only"):
        db.execute(sa.text("DELETE FROM book"))
    store.close()
