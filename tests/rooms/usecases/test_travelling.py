"""A trial travels to another book and back bit for bit; settings go out as a table and come in again."""

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from etchbook.store import MemoryStore
from etchbook.trials.records import Bead, Book, Dimension, Piece, Plate, ReadingEdition, Setting
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.archives import members
from etchbook.usecases.keeping.beads import change_bead, keep_trial, log_bead
from etchbook.usecases.keeping.certificates import keep_certificate
from etchbook.usecases.keeping.faces import Photo, add_picture, prepare_face
from etchbook.usecases.keeping.history import put_in_bin, undo
from etchbook.usecases.keeping.pieces import cut, keep_coupon
from etchbook.usecases.keeping.ports import Change, Hand, Write
from etchbook.usecases.keeping.settings import setting_of
from etchbook.usecases.keeping.sheet import settings_csv, take_settings
from etchbook.usecases.keeping.taking import take_in
from etchbook.wiring.units import amount

HAND = Hand(by="AB", at="2026-03-14T09:30:00+01:00")
OTHER = Hand(by="XY", at="2026-05-01T10:00:00+02:00")
DOCUMENT = b'{"reading": 1}'


@dataclass
class Files:
    """An archive in memory."""

    held: dict[str, bytes]

    def names(self) -> tuple[str, ...]:
        return tuple(self.held)

    def read(self, name: str) -> bytes:
        if name not in self.held:
            raise RefusedError(f"no {name}")
        return self.held[name]


def untouched(data: bytes, name: str) -> bytes:
    return data


def scrubbed(data: bytes, name: str) -> bytes:
    return data.replace(b"PLACE", b"     ")


def empty(name: str) -> MemoryStore:
    return MemoryStore(Book(id=name, name=name))


@pytest.fixture
def store() -> MemoryStore:
    made = empty("first")
    keep_certificate(made, HAND, "4711", {"C": 0.15})
    keep_trial(made, HAND, "N1", "mark-1", {"question": "Größer?"})
    log_bead(made, HAND, "N1", [setting_of("volts", "18.5±0.1V", "set", amount), Setting(name="gas", text="=1+1")])
    change_bead(made, OTHER, "N1-01", [setting_of("amps", "165A", "read", amount)])
    log_bead(made, HAND, "N1", [setting_of("travel", "30cm/min", "set", amount)])
    put_in_bin(made, HAND, "N1-02")
    keep_coupon(made, HAND, "N1-01", {"plates": (Plate(member=1, certificate="CERT-1"),)})
    cut(made, HAND, "N1-01")
    prepare_face(made, HAND, "N1-01-A", [])
    data = b"a photograph taken at PLACE"
    photo = Photo(data=data, sha256=hashlib.sha256(data).hexdigest(), name="p.jpg", suffix=".jpg", width=4, height=3)
    add_picture(made, HAND, "N1-01-A", photo)
    reading = ReadingEdition(
        code="N1-01-A-1-P1-R1", document=hashlib.sha256(DOCUMENT).hexdigest(), picture=photo.sha256, made="automatic",
        program="p", family="tee", dimensions=(Dimension(name="leg_1", value=6.1, u=0.03, unit="mm"),),
    )  # fmt: skip
    documents = {reading.document: DOCUMENT}
    made.keep(Change(hand=HAND, words="read", writes=[Write(record=reading, expects=0)], documents=documents))
    return made


def packed(store: MemoryStore, code: str = "N1", scrub: Callable[[bytes, str], bytes] = untouched) -> Files:
    return Files(dict(members(store, code, "etchbook test", scrub)))


def test_there_and_back_bit_for_bit(store: MemoryStore) -> None:
    first = packed(store)
    second = empty("second")
    arrival = take_in(second, OTHER, first)
    assert (arrival.code, arrival.was, arrival.pictures) == ("N1", "N1", 1)
    again = packed(second)
    assert {k: v for k, v in again.held.items() if k != "manifest.json"} == {
        k: v for k, v in first.held.items() if k != "manifest.json"
    }
    assert list(second.verify()) == []
    for entry in store.tree("N1", binned=True):
        for edition in store.editions(entry.code):
            here = second.entry(edition.code, edition.edition)
            assert here is not None
            assert (here.record, here.by, here.at, here.binned) == (
                edition.record,
                edition.by,
                edition.at,
                edition.binned,
            )
    assert [one.words for one in second.changes()] == ["took in trial N1 from the book first, where it is N1"]


def test_the_same_trial_twice_is_refused_and_under_another_code_taken(store: MemoryStore) -> None:
    archive = packed(store)
    with pytest.raises(RefusedError, match="already, as N1"):
        take_in(store, OTHER, archive)
    assert take_in(store, OTHER, archive, as_code="n7").code == "N7"
    piece = store.entry("N7-01-A")
    assert piece is not None and isinstance(piece.record, Piece)
    assert piece.record.parent == "N7-01-0" and piece.record.facing[0].other == "N7-01-B"
    with pytest.raises(RefusedError, match="there is a trial N7"):
        take_in(store, OTHER, archive, as_code="N7")
    with pytest.raises(RefusedError, match="code of a bead"):
        take_in(store, OTHER, archive, as_code="N8-01")


def test_a_code_that_is_taken_gives_way(store: MemoryStore) -> None:
    second = empty("second")
    keep_certificate(second, OTHER, "another heat", {})
    keep_trial(second, OTHER, "N1", "another", {"question": "mine"})
    keep_trial(second, OTHER, "N3", "third", {})
    arrival = take_in(second, OTHER, packed(store))
    assert arrival.code == "N4"
    mine = second.entry("N1")
    assert mine is not None and mine.edition == 1 and second.below("N1") == ()
    coupon = second.entry("N4-01-0")
    assert coupon is not None and coupon.record.plates[0].certificate == "CERT-2"  # type: ignore[union-attr]
    certificate = second.entry("CERT-2")
    assert certificate is not None and certificate.record.heat == "4711"  # type: ignore[union-attr]


def test_a_certificate_that_is_there_is_not_taken_twice(store: MemoryStore) -> None:
    second = empty("second")
    keep_certificate(second, OTHER, "4711", {"C": 0.15})
    take_in(second, OTHER, packed(store))
    assert [one.code for one in second.every("certificate")] == ["CERT-1"]


def test_pictures_leave_without_their_place_and_say_so(store: MemoryStore) -> None:
    archive = packed(store, scrub=scrubbed)
    assert not any(b"PLACE" in data for data in archive.held.values())
    second = empty("second")
    take_in(second, OTHER, archive)
    old, new = store.entry("N1-01-A-1-P1"), second.entry("N1-01-A-1-P1")
    assert old is not None and new is not None
    assert new.record.copied_from == old.record.sha256 != new.record.sha256  # type: ignore[union-attr]
    assert second.pictures_of(old.record.sha256) == ("N1-01-A-1-P1",)  # type: ignore[union-attr]
    assert packed(second, scrub=scrubbed).held["editions.jsonl"] == archive.held["editions.jsonl"]


def test_an_import_can_be_taken_back(store: MemoryStore) -> None:
    second = empty("second")
    take_in(second, OTHER, packed(store))
    undo(second, OTHER)
    assert second.every("trial") == () and second.tree("N1") == ()
    with pytest.raises(RefusedError, match="in the bin as N1"):
        take_in(second, OTHER, packed(store))


def damaged(store: MemoryStore, how: str) -> Files:
    held = packed(store).held
    manifest = json.loads(held["manifest.json"])
    if how == "flipped":
        name = next(name for name in held if name.startswith("originals/"))
        held[name] = b"x" + held[name][1:]
    elif how == "lacking":
        del held[next(name for name in held if name.startswith("documents/"))]
    elif how == "more":
        held["originals/more"] = b"x"
    elif how == "newer":
        held["manifest.json"] = json.dumps({**manifest, "format": "etchbook trial 2"}).encode()
    elif how == "no manifest":
        held["manifest.json"] = b"[]"
    else:
        old, _, new = how.partition(" -> ") if " -> " in how else ('"volts"', "", how)
        assert old in held["editions.jsonl"].decode()
        lines = held["editions.jsonl"].decode().replace(old, new)
        held["editions.jsonl"] = lines.encode()
        manifest["sha256"]["editions.jsonl"] = hashlib.sha256(lines.encode()).hexdigest()
        held["manifest.json"] = json.dumps(manifest).encode()
    return Files(held)


@pytest.mark.parametrize(
    "how",
    [
        "flipped",
        "lacking",
        "more",
        "newer",
        "no manifest",
        "7",
        '"volts", "unheard": 1',
        "{",
        "N1-02 -> N2-02",
        '"kind": "bead" -> "kind": "piece"',
        '"edition": 1 -> "edition": 0',
        '"edition": 2 -> "edition": 3',
    ],
)
def test_a_damaged_archive_changes_nothing(store: MemoryStore, how: str) -> None:
    second = empty("second")
    with pytest.raises(RefusedError):
        take_in(second, OTHER, damaged(store, how))
    assert second.changes() == () and second.counts() == {}


def test_settings_as_a_table_and_back(store: MemoryStore) -> None:
    text = settings_csv(store, "N1")
    lines = text.splitlines()
    assert lines[0] == "bead,welded,volts set [V],volts set u [V],amps read [A],gas set"
    assert lines[1] == "N1-01,2026-03-14T09:30:00+01:00,18.5,0.1,165.0,'=1+1"
    taken = take_settings(store, OTHER, text, amount)
    assert (taken.new, taken.changed, taken.same) == ((), (), ("N1-01",))
    second = empty("second")
    keep_trial(second, OTHER, "N1", "m", {})
    assert take_settings(second, OTHER, text, amount).new == ("N1-01",)
    assert settings_csv(second, "N1") == text


def test_a_table_in_other_units_with_semicolons_and_commas(store: MemoryStore) -> None:
    table = "\ufeffbead;volts [V];travel [in/min];thickness_1 [in];remarks\nn1-1;20,5;12;5/16;\nN1-09;21;;;windy\n"
    taken = take_settings(store, OTHER, table, amount, name="t.csv")
    assert taken.changed == ("N1-01",) and taken.new == ("N1-09",)
    entry = store.entry("N1-01")
    assert entry is not None and isinstance(entry.record, Bead)
    told = {(one.name, one.origin): one.value for one in entry.record.settings if one.value is not None}
    assert told[("volts", "set")] == 20.5 and told[("amps", "read")] == 165.0
    assert told[("travel", "set")] == pytest.approx(5.08) and told[("thickness_1", "set")] == pytest.approx(7.9375)
    assert store.changes(limit=1)[0].words == "took settings of 2 beads from t.csv"


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("", "header"),
        ("bead,volts [V]\n", "header"),
        ("volts [V]\n3\n", 'no column "bead"'),
        ("bead,volts\nN1-01,3\n", "needs its unit"),
        ("bead,volts [V],volts [V]\nN1-01,3,4\n", "two columns"),
        ("bead,elbow [V]\nN1-01,3\n", "no setting"),
        ("bead,volts [V]\nN1-01,3\nN1-1,4\n", "came before"),
        ("bead,volts [V]\nN1-01,3,4\n", "cells"),
        ("bead,volts [V]\nN1-01-A,3\n", "not of a bead"),
        ("bead,volts [V]\nN1-01,much\n", "row 2 of the table: volts must be a number"),
        ("bead,volts [V]\nN1-05,20\nN1-01,-3\n", "row 3 of the table"),
        ("bead,volts [V]\nN9-01,3\n", "no trial N9"),
        ("bead,volts [V]\n,3\n", "names no bead"),
    ],
)
def test_tables_that_will_not_do_change_nothing(store: MemoryStore, table: str, said: str) -> None:
    before = len(store.changes(limit=100))
    with pytest.raises(RefusedError, match=said):
        take_settings(store, OTHER, table, amount)
    assert len(store.changes(limit=100)) == before
