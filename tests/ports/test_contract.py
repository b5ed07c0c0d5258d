"""One suite for every store: what a book promises, whatever it is kept in."""

import hashlib

import pytest

from etchbook.joint import Joint
from etchbook.trials.records import Bead, Certificate, Dimension, PictureEntry, Piece, ReadingEdition, Setting, Trial
from etchbook.usecases.keeping.errors import BookError, ChangedMeanwhileError
from etchbook.usecases.keeping.ports import BookStore, Change, Hand, Original, Query, Range, Write

HAND = Hand(by="AB", at="2026-03-14T09:30:00+01:00")
PHOTO = b"\x89 any bytes \x00\xff"
SHA = hashlib.sha256(PHOTO).hexdigest()
DOCUMENT = '{"größe": 1}'.encode()
DOCUMENT_SHA = hashlib.sha256(DOCUMENT).hexdigest()

TRIAL = Trial(code="N1", mark="m1", question="Größer oder kälter?", joint=Joint(family="tee", thickness_1=8.0))
BEAD = Bead(
    code="N1-01",
    settings=(
        Setting(name="volts", value=18.5, u=0.1, typed="18.5±0.1V"),
        Setting(name="volts", origin="read", value=18.1),
        Setting(name="gas", text="Ar/CO2 82/18"),
    ),
)
PICTURE = PictureEntry(
    code="N1-01-A-1-P1", sha256=SHA, name="IMG 7.jpg", suffix=".jpg", size=len(PHOTO), width=4, height=3
)
READING = ReadingEdition(
    code="N1-01-A-1-P1-R1", document=DOCUMENT_SHA, picture=SHA, made="automatic", program="etchbook 0", family="tee",
    dimensions=(Dimension(name="leg_1", value=6.3, u=0.04, unit="mm"), Dimension(name="leg_2", absent="hidden")),
)  # fmt: skip


def new(*records: object, words: str = "made") -> Change:
    return Change(hand=HAND, words=words, writes=[Write(record=one, expects=0) for one in records])  # type: ignore[arg-type]


@pytest.fixture
def filled(store: BookStore) -> BookStore:
    store.keep(new(TRIAL, BEAD, words="began"))
    store.keep(
        Change(
            hand=HAND, words="photo", writes=[Write(record=PICTURE, expects=0)],
            originals={SHA: Original(data=PHOTO, suffix=".jpg")},
        )
    )  # fmt: skip
    store.keep(Change(hand=HAND, words="read", writes=[Write(record=READING, expects=0)],
                      documents={DOCUMENT_SHA: DOCUMENT}))  # fmt: skip
    return store


def codes(entries: object) -> list[str]:
    return [entry.code for entry in entries]  # type: ignore[attr-defined]


def test_records_come_back_as_they_were(filled: BookStore) -> None:
    for record in (TRIAL, BEAD, PICTURE, READING):
        entry = filled.entry(record.code)
        assert entry is not None and entry.record == record
        assert (entry.edition, entry.by, entry.at, entry.binned) == (1, HAND.by, HAND.at, "")
    assert filled.entry("N9") is None and filled.entry("N1", 2) is None
    assert filled.book.name == "Bay"


def test_bytes_come_back_as_they_were(filled: BookStore) -> None:
    assert filled.original(SHA) == PHOTO
    assert filled.document(DOCUMENT_SHA) == DOCUMENT
    for ask in (filled.original, filled.document):
        with pytest.raises(BookError, match="not in the book"):
            ask("0" * 64)


def test_changes_are_numbered_from_one(filled: BookStore) -> None:
    assert [(one.number, one.words) for one in filled.changes()] == [(3, "read"), (2, "photo"), (1, "began")]
    assert [one.number for one in filled.changes(before=3, limit=1)] == [2]
    assert [one.number for one in filled.changes("N1-01")] == [3, 2, 1]
    assert [one.number for one in filled.changes("N1-01-A")] == [3, 2]
    first = filled.change(1)
    assert first is not None and first.touched == (("N1", 1), ("N1-01", 1))
    assert filled.change(99) is None


def test_a_new_edition_leaves_the_old_one(filled: BookStore) -> None:
    newer = Bead(code="N1-01", settings=(Setting(name="volts", value=24.0),))
    filled.keep(Change(hand=Hand(by="CD", at="2026-03-15T08:00:00+01:00"), words="changed",
                       writes=[Write(record=newer, expects=1)]))  # fmt: skip
    assert [(one.edition, one.by) for one in filled.editions("N1-01")] == [(1, "AB"), (2, "CD")]
    held, old = filled.entry("N1-01"), filled.entry("N1-01", 1)
    assert held is not None and held.record == newer
    assert old is not None and old.record == BEAD


@pytest.mark.parametrize(("record", "expects"), [(BEAD, 0), (BEAD, 2), (Bead(code="N1-02"), 1)])
def test_who_did_not_see_the_newest_edition_is_refused(filled: BookStore, record: Bead, expects: int) -> None:
    other = Trial(code="N2", mark="m2")
    with pytest.raises(ChangedMeanwhileError):
        filled.keep(Change(hand=HAND, words="late", writes=[Write(record=other, expects=0),
                                                            Write(record=record, expects=expects)]))  # fmt: skip
    assert filled.entry("N2") is None, "all of a change or nothing"
    assert len(filled.changes()) == 3
    assert filled.find(Query(words=("n2",))) == ()


def test_several_editions_of_one_code_in_one_change(filled: BookStore) -> None:
    first, second = Trial(code="N5", mark="a", question="one"), Trial(code="N5", mark="a", question="two")
    filled.keep(
        Change(
            hand=HAND, words="taken in",
            writes=[Write(record=first, expects=0, by="X", at="2020"),
                    Write(record=second, expects=1, by="Y", at="2021")],
        )
    )  # fmt: skip
    assert [(one.record, one.by, one.at) for one in filled.editions("N5")] == [
        (first, "X", "2020"),
        (second, "Y", "2021"),
    ]
    assert codes(filled.find(Query(words=("two",)))) == ["N5"]
    assert codes(filled.find(Query(words=("one",)))) == []


def test_what_lies_below(filled: BookStore) -> None:
    filled.keep(new(Piece(code="N1-01-A", parent="N1-01-0"), Trial(code="N10", mark="x"), Bead(code="N10-01")))
    assert codes(filled.below("N1")) == ["N1-01"]
    assert codes(filled.below("")) == ["N1", "N10"]
    assert codes(filled.below("N1-01", "piece")) == ["N1-01-A"] and codes(filled.below("N1-01", "face")) == []
    tree = ["N1", "N1-01", "N1-01-A", "N1-01-A-1-P1", "N1-01-A-1-P1-R1"]
    assert codes(filled.tree("N1")) == tree, "N10 is not below N1"
    assert sorted(filled.taken("")) == ["N1", "N10"]


def test_a_kind_comes_a_page_at_a_time(store: BookStore) -> None:
    store.keep(new(*(Bead(code=f"N1-{k:02d}") for k in range(1, 8))))
    assert codes(store.every("bead", limit=3)) == ["N1-01", "N1-02", "N1-03"]
    assert codes(store.every("bead", limit=3, after="N1-06")) == ["N1-07"]


def test_the_bin(filled: BookStore) -> None:
    filled.keep(Change(hand=HAND, words="bin", writes=[Write(record=BEAD, expects=1, binned="2026-03-14")]))
    entry = filled.entry("N1-01")
    assert entry is not None and entry.binned == "2026-03-14" and entry.edition == 2
    assert codes(filled.binned()) == ["N1-01"]
    assert codes(filled.below("N1")) == [] and filled.every("bead") == ()
    assert "N1-01" not in codes(filled.tree("N1")) and "N1-01" in codes(filled.tree("N1", binned=True))
    assert "N1-01" in filled.taken("N1"), "a code is never given twice"
    assert filled.find(Query(words=("ar",))) == ()
    assert codes(filled.find(Query(ranges=(Range(name="volts", least=0.0),)))) == []
    assert filled.counts() == {"trial": 1, "picture": 1, "reading": 1, "in the bin": 1}
    filled.keep(Change(hand=HAND, words="back", writes=[Write(record=BEAD, expects=2)]))
    assert filled.binned() == () and codes(filled.find(Query(words=("ar",)))) == ["N1-01"]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (("grosser",), ["N1"]),
        (("GRÖSSER", "kalt"), ["N1"]),
        (("GRÖSSER", "warm"), []),
        (("größ", "kälter"), ["N1"]),
        (("co2",), ["N1-01"]),
        (("img",), ["N1-01-A-1-P1"]),
        (("n1-01",), ["N1-01", "N1-01-A-1-P1", "N1-01-A-1-P1-R1"]),
        (("hidden",), []),
        (("%",), ["N1", "N1-01", "N1-01-A-1-P1", "N1-01-A-1-P1-R1"]),
        (("nothing of the kind",), []),
    ],
)
def test_finding_words(filled: BookStore, words: tuple[str, ...], found: list[str]) -> None:
    assert codes(filled.find(Query(words=words))) == found


@pytest.mark.parametrize(
    ("ranges", "kind", "found"),
    [
        ([("volts", 18.0, 18.2)], "bead", ["N1-01"]),
        ([("volts", 18.5, 18.5)], "bead", ["N1-01"]),
        ([("volts", 18.6, None)], "bead", []),
        ([("volts", None, 18.0)], "bead", []),
        ([("leg_1", 6.0, 7.0)], "reading", ["N1-01-A-1-P1-R1"]),
        ([("leg_1", 6.0, 7.0), ("volts", 18.0, 19.0)], "bead", ["N1-01"]),
        ([("leg_1", 6.0, 7.0), ("volts", 19.0, None)], "bead", []),
        ([("leg_2", None, None)], "reading", []),
    ],
)
def test_finding_ranges(
    filled: BookStore, ranges: list[tuple[str, float | None, float | None]], kind: str, found: list[str]
) -> None:
    asked = tuple(Range(name=name, least=least, most=most) for name, least, most in ranges)
    assert codes(filled.find(Query(ranges=asked, kind=kind))) == found


def test_finding_under_a_code_and_a_page_at_a_time(filled: BookStore) -> None:
    filled.keep(new(Trial(code="N2", mark="y", question="Maße?"), Certificate(code="CERT-1", heat="maße 4711")))
    assert codes(filled.find(Query(words=("masse",)))) == ["CERT-1", "N2"]
    assert codes(filled.find(Query(words=("masse",), under="N2"))) == ["N2"]
    assert codes(filled.find(Query(words=("masse",), limit=1))) == ["CERT-1"]
    assert codes(filled.find(Query(words=("masse",), after="CERT-1"))) == ["N2"]


def test_pictures_are_known_by_their_bytes(filled: BookStore) -> None:
    copy = PictureEntry(code="N1-01-A-1-P2", sha256="1" * 64, name="b", suffix=".jpg", size=1, width=1, height=1,
                        copied_from=SHA)  # fmt: skip
    filled.keep(Change(hand=HAND, words="copy", writes=[Write(record=copy, expects=0)],
                       originals={"1" * 64: Original(data=b"x", suffix=".jpg")}))  # fmt: skip
    assert filled.pictures_of(SHA) == ("N1-01-A-1-P1", "N1-01-A-1-P2")
    assert filled.pictures_of("2" * 64) == ()


def test_the_same_photograph_twice_is_kept_once(filled: BookStore) -> None:
    again = PictureEntry(code="N1-01-A-1-P2", sha256=SHA, name="b", suffix=".jpg", size=1, width=1, height=1)
    filled.keep(Change(hand=HAND, words="again", writes=[Write(record=again, expects=0)],
                       originals={SHA: Original(data=PHOTO, suffix=".jpg")}))  # fmt: skip
    assert filled.original(SHA) == PHOTO and list(filled.verify()) == []


def test_a_sound_book_has_no_troubles(filled: BookStore) -> None:
    assert list(filled.verify()) == []


def test_a_picture_without_its_original_is_named(store: BookStore) -> None:
    store.keep(new(PICTURE))
    troubles = list(store.verify())
    assert len(troubles) == 1 and "N1-01-A-1-P1" in troubles[0].where
