"""A book goes into a backup and comes back, whatever database it is kept in."""

import hashlib
from pathlib import Path

import pytest

from etchbook.store import SqlStore, backup, new_book, open_book, restore
from etchbook.trials.records import Bead, Book, PictureEntry, Trial
from etchbook.usecases.keeping.errors import BookError
from etchbook.usecases.keeping.ports import Change, Hand, Original, Query, Write

HAND = Hand(by="AB", at="2026-03-14T09:30:00+01:00")
PHOTO = bytes(range(256))
SHA = hashlib.sha256(PHOTO).hexdigest()


def filled(folder: Path, database: str) -> SqlStore:
    store = new_book(folder, Book(id="b1", name='Bay "4" \\ größer'), database)
    picture = PictureEntry(code="N1-01-A-1-P1", sha256=SHA, name="p", suffix=".png", size=256, width=1, height=1)
    for record in (Trial(code="N1", mark="m", question="kälter?"), Bead(code="N1-01"), picture):
        originals = {SHA: Original(data=PHOTO, suffix=".png")} if record is picture else {}
        change = Change(hand=HAND, words="made", writes=[Write(record=record, expects=0)], originals=originals)  # type: ignore[arg-type]
        store.keep(change)
    return store


@pytest.mark.parametrize("kept_in", ["sqlite", "postgresql"])
@pytest.mark.parametrize("restored_to", ["sqlite", "postgresql"])
def test_there_and_back(tmp_path: Path, cluster: str, kept_in: str, restored_to: str) -> None:
    import psycopg

    urls = []
    with psycopg.connect(cluster.format(name="postgres"), autocommit=True) as server:
        for role in ("from", "to"):
            name = f"{role}_{kept_in}_{restored_to}"
            server.execute(f"CREATE DATABASE {name}")  # type: ignore[call-overload]
            urls.append(cluster.format(name=name))
    source = filled(tmp_path / "book", urls[0] if kept_in == "postgresql" else "")
    copy = backup(tmp_path / "book", tmp_path / "copy")
    assert (tmp_path / "copy" / "book.sqlite").exists(), "a backup needs no server to be read"
    assert list(copy.verify()) == []
    copy.close()
    source.keep(Change(hand=HAND, words="later", writes=[Write(record=Bead(code="N1-02"), expects=0)]))
    back = restore(tmp_path / "copy", tmp_path / "back", urls[1] if restored_to == "postgresql" else "")
    assert list(back.verify()) == []
    assert back.book == source.book
    assert back.entry("N1-02") is None and back.original(SHA) == PHOTO
    assert [one.words for one in back.changes()] == ["made"] * 3
    assert [one.code for one in back.find(Query(words=("kalter",)))] == ["N1"]
    assert back.keep(Change(hand=HAND, words="on", writes=[Write(record=Bead(code="N1-03"), expects=0)])) == 4
    back.close()
    source.close()
    again = open_book(tmp_path / "back")
    assert again.entry("N1-03") is not None
    again.close()


def test_a_database_that_holds_a_book_is_left_alone(tmp_path: Path, database: str) -> None:
    filled(tmp_path / "book", database).close()
    with pytest.raises(BookError, match="already"):
        new_book(tmp_path / "second", Book(id="x", name="x"), database)
    backup(tmp_path / "book", tmp_path / "copy").close()
    with pytest.raises(BookError, match="already"):
        restore(tmp_path / "copy", tmp_path / "back", database)
    assert not (tmp_path / "back").exists()
    first = open_book(tmp_path / "book")
    assert list(first.verify()) == []
    first.close()


@pytest.mark.parametrize(
    ("url", "said"),
    [("mysql://x/y", "PostgreSQL"), ("nonsense", "database address"), ("postgresql://a:secret@h/d", "password")],
)
def test_addresses_that_will_not_do(tmp_path: Path, url: str, said: str) -> None:
    with pytest.raises(BookError, match=said) as refused:
        new_book(tmp_path / "book", Book(id="x", name="x"), url)
    assert "secret" not in str(refused.value)


def test_a_server_that_does_not_answer_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="does not answer"):
        new_book(tmp_path / "book", Book(id="x", name="x"), f"postgresql://u@/d?host={tmp_path}")
