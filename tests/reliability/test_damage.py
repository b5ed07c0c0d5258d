"""What goes wrong with disks, folders and other programs: it is named, nothing half-written stays, nothing is lost."""

import hashlib
import os
import resource
import shutil
import signal
import sqlite3
import stat
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from etchbook.store import SqlStore, backup, new_book, open_book, renew, restore
from etchbook.trials.records import Bead, Book, Dimension, PictureEntry, ReadingEdition, Setting, Trial
from etchbook.usecases.keeping.errors import BookError
from etchbook.usecases.keeping.ports import Change, Hand, Original, Query, Write

HAND = Hand(by="AB", at="2026-03-14T09:30:00+01:00")
ROOT = Path(__file__).parents[2]


def picture(code: str, data: bytes) -> Change:
    sha256 = hashlib.sha256(data).hexdigest()
    entry = PictureEntry(code=code, sha256=sha256, name="p.jpg", suffix=".jpg", size=len(data), width=1, height=1)
    original = Original(data=data, suffix=".jpg")
    return Change(hand=HAND, words="picture", writes=[Write(record=entry, expects=0)], originals={sha256: original})


def filled(folder: Path, beads: int = 30) -> SqlStore:
    store = new_book(folder, Book(id="b1", name="Bay"))
    store.keep(Change(hand=HAND, words="trial", writes=[Write(record=Trial(code="N1", mark="m"), expects=0)]))
    for number in range(1, beads + 1):
        settings = (Setting(name="volts", value=float(number)), Setting(name="remarks", text=f"note {number} " * 20))
        bead = Bead(code=f"N1-{number:02d}", settings=settings)
        store.keep(Change(hand=HAND, words="bead", writes=[Write(record=bead, expects=0)]))
    store.keep(picture("N1-01-A-1-P1", b"first photograph" * 100))
    document = b"{" + bytes(range(32, 127)) * 300 + b"}"
    key = hashlib.sha256(document).hexdigest()
    reading = ReadingEdition(
        code="N1-01-A-1-P1-R1", document=key, picture="", made="automatic", program="p", family="tee",
        dimensions=(Dimension(name="leg_1", value=6.0, u=0.1, unit="mm"),),
    )  # fmt: skip
    store.keep(Change(hand=HAND, words="read", writes=[Write(record=reading, expects=0)], documents={key: document}))
    return store


def contents(folder: Path) -> dict[str, int]:
    return {str(path.relative_to(folder)): path.stat().st_size for path in folder.rglob("*") if path.is_file()}


@contextmanager
def files_no_larger_than(size: int) -> Iterator[None]:
    """As on a full disk: a write beyond that size of a file is refused by the system."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)


def test_a_full_disk_while_a_picture_comes_in(tmp_path: Path) -> None:
    store = filled(tmp_path / "book")
    before = contents(tmp_path / "book" / "originals")
    with files_no_larger_than(4_000_000), pytest.raises(BookError, match="nothing was written"):
        store.keep(picture("N1-02-A-1-P1", os.urandom(5_000_000)))
    assert store.entry("N1-02-A-1-P1") is None
    assert contents(tmp_path / "book" / "originals") == before
    assert contents(tmp_path / "book" / "incoming") == {}
    assert list(store.verify()) == []
    store.keep(picture("N1-02-A-1-P1", os.urandom(5_000_000)))


def test_a_full_disk_while_the_database_grows(tmp_path: Path) -> None:
    store = filled(tmp_path / "book")
    size = max(contents(tmp_path / "book").values())
    beads = [Bead(code=f"N1-{n}", settings=(Setting(name="remarks", text=os.urandom(400).hex()),))
             for n in range(100, 3000)]  # fmt: skip
    many = [Write(record=bead, expects=0) for bead in beads]
    with files_no_larger_than(size + 100_000), pytest.raises(BookError, match=r"disk.*nothing was written"):
        store.keep(Change(hand=HAND, words="many", writes=many))
    assert store.entry("N1-100") is None and len(store.below("N1")) == 30
    store.close()
    again = open_book(tmp_path / "book")
    assert list(again.verify()) == []
    again.keep(Change(hand=HAND, words="many", writes=many))
    assert len(again.below("N1")) == 2930


def test_a_full_disk_while_a_backup_is_made(tmp_path: Path) -> None:
    filled(tmp_path / "book").close()
    with files_no_larger_than(20_000), pytest.raises(BookError):
        backup(tmp_path / "book", tmp_path / "copy")
    assert not (tmp_path / "copy").exists() and not (tmp_path / "copy.part").exists()


@contextmanager
def as_somebody_else() -> Iterator[None]:
    """Root may write anywhere; for a while be a user who may not."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.mark.parametrize("left_over", [False, True], ids=["closed", "stopped"])
def test_a_folder_that_may_only_be_read(left_over: bool) -> None:
    root = Path(tempfile.mkdtemp(dir="/tmp", prefix="etchbook-ro-"))
    try:
        folder = root / "book"
        store = filled(folder)
        if not left_over:
            store.close()
        for path in (root, *root.rglob("*")):
            path.chmod(0o555 if path.is_dir() else 0o444)
        with as_somebody_else():
            mine = open_book(folder)
            assert len(mine.below("N1")) == 30 and list(mine.verify()) == []
            assert mine.find(Query(words=("note",), limit=5))
            for change in (picture("N1-02-A-1-P1", b"x"), Change(hand=HAND, words="bead", writes=[
                    Write(record=Bead(code="N1-99"), expects=0)])):  # fmt: skip
                with pytest.raises(BookError, match=r"read-only|permission|only be read"):
                    mine.keep(change)
            with pytest.raises(BookError, match="permission"):
                new_book(folder / "inner", Book(id="x", name="x"))
            mine.close()
        assert renew_words(folder)
    finally:
        for path in (root, *root.rglob("*")):
            path.chmod(path.stat().st_mode | stat.S_IWUSR | (stat.S_IXUSR if path.is_dir() else 0))
        shutil.rmtree(root)


def renew_words(folder: Path) -> tuple[str, ...]:
    with as_somebody_else():
        return renew(folder, "2026-03-14")


LOGGER = """
import sys
from pathlib import Path
from etchbook.store import open_book
from etchbook.trials.records import Setting
from etchbook.usecases.keeping.beads import log_bead
from etchbook.usecases.keeping.ports import Hand
store = open_book(Path(sys.argv[1]))
for number in range(int(sys.argv[2])):
    hand = Hand(by=sys.argv[3], at="2026-03-14T09:30:00+01:00")
    bead = log_bead(store, hand, "N1", [Setting(name="volts", value=1.0)])
    print(bead.code, flush=True)
"""


def test_two_programs_at_once(tmp_path: Path) -> None:
    filled(tmp_path / "book", beads=0).close()
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    words = [sys.executable, "-c", LOGGER, str(tmp_path / "book"), "25"]
    both = [subprocess.Popen([*words, who], stdout=subprocess.PIPE, text=True, env=env) for who in ("AB", "CD")]
    told = [one.communicate(timeout=120)[0].split() for one in both]
    assert [one.returncode for one in both] == [0, 0]
    assert sorted(told[0] + told[1]) == [f"N1-{number:02d}" for number in range(1, 51)]
    store = open_book(tmp_path / "book")
    assert {store.entry(code).by for code in told[0]} == {"AB"}  # type: ignore[union-attr]
    assert list(store.verify()) == [] and len(store.changes(limit=100)) == 53


def test_every_damaged_page_is_told(tmp_path: Path) -> None:
    filled(tmp_path / "book").close()
    database = tmp_path / "book" / "book.sqlite"
    whole = database.read_bytes()
    size = int.from_bytes(whole[16:18], "big")
    assert len(whole) // size > 20
    for page in range(len(whole) // size):
        database.write_bytes(whole[: page * size] + b"\xa5" * size + whole[(page + 1) * size :])
        try:
            store = open_book(tmp_path / "book")
        except BookError as error:
            assert "backup" in str(error)
            continue
        troubles = list(store.verify())
        store.close()
        assert any("page of the database" in one.what or "cannot be read" in one.what for one in troubles), page
    database.write_bytes(whole)
    assert list(open_book(tmp_path / "book").verify()) == []


def test_a_changed_record_is_named(tmp_path: Path) -> None:
    filled(tmp_path / "book").close()
    with sqlite3.connect(tmp_path / "book" / "book.sqlite") as db:
        with pytest.raises(sqlite3.IntegrityError, match="append only"):
            db.execute("UPDATE editions SET body = replace(body, '7.0', '9.0') WHERE code = 'N1-07'")
        with pytest.raises(sqlite3.IntegrityError, match="append only"):
            db.execute("DELETE FROM editions WHERE code = 'N1-07'")
        db.execute("DROP TRIGGER editions_no_update")
        db.execute("UPDATE editions SET body = replace(body, '7.0', '9.0') WHERE code = 'N1-07'")
    db.close()
    troubles = list(open_book(tmp_path / "book").verify())
    assert [one.where for one in troubles if "behind the book's back" in one.what] == ["N1-07 edition 1"]


def test_a_damaged_or_missing_picture_is_named(tmp_path: Path) -> None:
    store = filled(tmp_path / "book")
    path = next((tmp_path / "book" / "originals").glob("??/*.jpg"))
    path.chmod(0o644)
    data = bytearray(path.read_bytes())
    data[50] ^= 1
    path.write_bytes(data)
    troubles = list(store.verify())
    assert len(troubles) == 1 and "damaged" in troubles[0].what and "N1-01-A-1-P1" in troubles[0].where
    with pytest.raises(BookError, match="damaged"):
        store.original(path.name.partition(".")[0])
    path.unlink()
    troubles = list(store.verify())
    assert len(troubles) == 1 and "missing" in troubles[0].what and "N1-01-A-1-P1" in troubles[0].where


def test_a_damaged_document_is_named(tmp_path: Path) -> None:
    filled(tmp_path / "book").close()
    with sqlite3.connect(tmp_path / "book" / "book.sqlite") as db:
        db.execute("DROP TRIGGER documents_no_update")
        key, pressed = db.execute("SELECT sha256, pressed FROM documents").fetchone()
        db.execute("UPDATE documents SET pressed = ?", (pressed[:40] + b"\0" + pressed[41:],))
    db.close()
    assert key in [one.where for one in open_book(tmp_path / "book").verify()]


def test_a_backup_taken_while_others_write(tmp_path: Path) -> None:
    filled(tmp_path / "book", beads=3).close()
    command = [sys.executable, str(Path(__file__).with_name("worker.py"))]
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    worker = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=env)
    writing = threading.Thread(target=worker.communicate, args=(f"{tmp_path / 'book'}\t1\t6\n",), daemon=True)
    writing.start()
    store, sizes = open_book(tmp_path / "book"), []
    begun, waited = len(store.taken("N1-01-A-1")), time.monotonic()
    while len(store.taken("N1-01-A-1")) < begun + 2:
        assert time.monotonic() - waited < 30, "the writer does not write"
        time.sleep(0.02)
    for number in range(3):
        copy = backup(tmp_path / "book", tmp_path / f"copy_{number}")
        assert list(copy.verify()) == []
        sizes.append(len(copy.taken("N1-01-A-1")))
        copy.close()
    writing.join(timeout=60)
    assert len(store.taken("N1-01-A-1")) > sizes[0] > begun
    back = restore(tmp_path / "copy_1", tmp_path / "back")
    assert list(back.verify()) == [] and len(back.taken("N1-01-A-1")) == sizes[1]
    assert back.original(back.entry("N1-01-A-1-P1").record.sha256)  # type: ignore[union-attr]
    back.keep(Change(hand=HAND, words="goes on", writes=[Write(record=Bead(code="N1-09"), expects=0)]))


@pytest.mark.parametrize("what", ["full", "file", "none"])
def test_a_backup_needs_a_place_of_its_own(tmp_path: Path, what: str) -> None:
    filled(tmp_path / "book", beads=1).close()
    target = tmp_path / "there"
    if what == "file":
        target.write_text("x")
    elif what == "full":
        target.mkdir()
        (target / "thing").write_text("x")
    source = tmp_path / "nowhere" if what == "none" else tmp_path / "book"
    before = contents(tmp_path)
    with pytest.raises(BookError):
        backup(source, target)
    assert contents(tmp_path) == before
