"""A book of the first edition of the tables, with data in it, becomes a book of today; nothing in it is lost."""

import sqlite3
from pathlib import Path

import pytest
import sqlalchemy as sa

from etchbook.store import open_book, place_of, renew, schema
from etchbook.store.engines import postgres_engine, writing
from etchbook.trials.records import Bead, Trial
from etchbook.usecases.keeping.errors import BookError
from etchbook.usecases.keeping.ports import BookStore, Change, Hand, Query, Range, Write

DUMP = Path(__file__).with_name("book_0001.sql")
PHOTO = b"the bytes of an old photograph"
SHA = "fb8daff266d582f5f393e537ec3b23cce6d65f1d07601a03424101e3fe610aac"
TABLES = ("book", "changes", "editions", "heads", "words", "numbers", "documents", "originals")


def old_folder(folder: Path, database: str) -> Path:
    folder.mkdir()
    place = folder / "originals" / SHA[:2] / f"{SHA}.jpg"
    place.parent.mkdir(parents=True)
    place.write_bytes(PHOTO)
    (folder / "incoming").mkdir()
    text = f'format = "etchbook book 1"\nname = "Old bay"\ndatabase = "{database}"\n'
    (folder / "etchbook.toml").write_text(text)
    return folder


def dump() -> sqlite3.Connection:
    held = sqlite3.connect(":memory:")
    held.row_factory = sqlite3.Row
    held.executescript(DUMP.read_text(encoding="utf-8"))
    return held


@pytest.fixture(params=["sqlite", "postgresql"])
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A book as an older program left it."""
    if request.param == "sqlite":
        folder = old_folder(tmp_path / "book", "book.sqlite")
        with sqlite3.connect(folder / "book.sqlite") as db:
            db.executescript(DUMP.read_text(encoding="utf-8"))
        db.close()
        return folder
    url = request.getfixturevalue("database")
    engine = postgres_engine(url)
    schema.upgrade(engine, "0001")
    with writing(engine) as db:
        for name in TABLES:
            rows = [dict(row) for row in dump().execute(f"SELECT * FROM {name}")]
            table = sa.Table(name, sa.MetaData(), autoload_with=db)
            db.execute(sa.insert(table), rows)
        db.execute(sa.text("SELECT setval(pg_get_serial_sequence('changes', 'number'), 5)"))
    engine.dispose()
    return old_folder(tmp_path / "book", url)


def holds_everything(store: BookStore) -> None:
    trial, bead = store.entry("N1"), store.entry("N1-01")
    assert trial is not None and isinstance(trial.record, Trial) and trial.record.question == "Größer?"
    assert bead is not None and isinstance(bead.record, Bead) and bead.edition == 2
    assert [(one.name, one.value, one.text) for one in bead.record.settings] == [
        ("volts", 18.5, ""),
        ("gas", None, "Ar 'mix'"),
        ("amps", 165.0, ""),
    ]
    assert [one.words for one in store.changes()][-1] == "began trial N1" and len(store.changes()) == 5
    assert store.original(SHA) == PHOTO
    assert store.pictures_of(SHA) == ("N1-01-A-1-P1",)
    found = store.find(Query(words=("grosser",))) + store.find(
        Query(ranges=(Range(name="leg_1", least=6.0),), kind="bead")
    )
    assert [one.code for one in found] == ["N1", "N1-01"]


def test_an_old_book_is_brought_up_to_date(old: Path) -> None:
    with pytest.raises(BookError, match=r"older etchbook.*book open"):
        open_book(old)
    said = renew(old, "2026-03-14")
    assert "0001" in said[0] and "0002" in said[0]
    store = open_book(old)
    holds_everything(store)
    assert list(store.verify()) == []
    number = store.keep(
        Change(hand=Hand(by="AB", at="2026"), words="on", writes=[Write(record=Bead(code="N1-02"), expects=0)])
    )
    assert number == 6
    store.close()
    assert renew(old, "2026-03-15") == (), "a second time there is nothing to do"


def test_a_copy_of_the_old_database_is_kept(tmp_path: Path) -> None:
    folder = old_folder(tmp_path / "book", "book.sqlite")
    with sqlite3.connect(folder / "book.sqlite") as db:
        db.executescript(DUMP.read_text(encoding="utf-8"))
    db.close()
    renew(folder, "2026-03-14")
    with sqlite3.connect(folder / "book-before-0002-2026-03-14.sqlite") as kept:
        assert kept.execute("SELECT version_num FROM alembic_version").fetchone() == ("0001",)
        assert kept.execute("SELECT count(*) FROM editions").fetchone() == (5,)
    kept.close()


def test_a_failed_upgrade_changes_nothing(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from etchbook.store.migrations.versions import v0002_pictures

    assert v0002_pictures.revision == schema.NEWEST
    engine = place_of(old).engine()
    with writing(engine) as db:  # a record that the step cannot make sense of
        row = {"code": "N1-01-A-1-P9", "edition": 1, "kind": "picture", "change": 5, "by": "x", "at": "x", "binned": "",
               "body": "{}", "digest": "x"}  # fmt: skip
        names = ", ".join(f'"{name}"' for name in row)
        db.execute(sa.text(f"INSERT INTO editions ({names}) VALUES ({', '.join(':' + name for name in row)})"), row)
        db.execute(sa.text("INSERT INTO heads VALUES ('N1-01-A-1-P9', 'picture', 'N1-01-A-1', 'N1-01', 1, '')"))
    with pytest.raises(KeyError):
        schema.upgrade(engine)
    assert schema.state(engine) == "0001"
    with engine.connect() as db:
        assert not sa.inspect(db).has_table("pictures")
    engine.dispose()


def test_a_newer_book_is_refused(old: Path) -> None:
    renew(old, "2026-03-14")
    engine = place_of(old).engine()
    with writing(engine) as db:
        db.execute(sa.text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    with pytest.raises(BookError, match="newer etchbook"):
        open_book(old)


def test_the_steps_make_the_tables_that_the_program_uses(database: str) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    from etchbook.store.tables import META

    engine = postgres_engine(database)
    schema.upgrade(engine)
    with engine.connect() as db:
        assert compare_metadata(MigrationContext.configure(db), META) == []
    engine.dispose()
