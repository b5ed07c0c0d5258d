"""The book's verbs, on a book in memory: what a welder does and what comes of it."""

import hashlib

import pytest

from etchbook.store import MemoryStore
from etchbook.trials.records import Bead, Book, Certificate, Coupon, Face, PictureEntry, Piece, Setting, Step, Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.beads import change_bead, keep_trial, log_bead
from etchbook.usecases.keeping.certificates import keep_certificate, shares
from etchbook.usecases.keeping.errors import ChangedMeanwhileError, NotThereError
from etchbook.usecases.keeping.faces import Photo, add_picture, prepare_face
from etchbook.usecases.keeping.finding import find, range_of
from etchbook.usecases.keeping.history import bring_back, put_in_bin, undo
from etchbook.usecases.keeping.labels import labels
from etchbook.usecases.keeping.looking import write_next
from etchbook.usecases.keeping.pieces import cut, keep_coupon, keep_piece, whereabouts
from etchbook.usecases.keeping.ports import Hand, Write
from etchbook.usecases.keeping.settings import setting_name, setting_of
from etchbook.wiring.units import amount

HAND = Hand(by="AB", at="2026-03-14T09:30:00+01:00")


@pytest.fixture
def store() -> MemoryStore:
    made = MemoryStore(Book(id="b", name="Bay"))
    keep_trial(made, HAND, "N1", "m1", {"question": "Which gas?"})
    log_bead(made, HAND, "N1", [volts("18.5V"), Setting(name="gas", text="Ar/CO2 82/18")])
    return made


def volts(text: str) -> Setting:
    return setting_of("volts", text, "set", amount)


def photo(data: bytes = b"photo") -> Photo:
    return Photo(data=data, sha256=hashlib.sha256(data).hexdigest(), name="p.jpg", suffix=".jpg", width=4, height=3)


def test_beads_are_numbered_and_may_be_like_another(store: MemoryStore) -> None:
    second = log_bead(store, HAND, "n1", [volts("20V")], like="N1-1")
    assert second.code == "N1-02" and second.welded == HAND.at
    assert {(one.name, one.value, one.text) for one in second.settings} == {
        ("volts", 20.0, ""),
        ("gas", None, "Ar/CO2 82/18"),
    }
    with pytest.raises(NotThereError, match="no trial N9"):
        log_bead(store, HAND, "N9", [])
    with pytest.raises(RefusedError, match="code of a trial"):
        log_bead(store, HAND, "N1-01", [])


def test_a_number_is_never_given_twice(store: MemoryStore) -> None:
    log_bead(store, HAND, "N1", [])
    put_in_bin(store, HAND, "N1-02")
    assert log_bead(store, HAND, "N1", []).code == "N1-03"


def test_what_was_read_stands_beside_what_was_set(store: MemoryStore) -> None:
    bead = change_bead(store, HAND, "N1-01", [setting_of("v", "18.1", "read", amount)])
    assert [(one.origin, one.value) for one in bead.settings if one.name == "volts"] == [("set", 18.5), ("read", 18.1)]
    assert change_bead(store, HAND, "N1-01", []) == bead and len(store.editions("N1-01")) == 2


def test_who_saw_an_older_edition_is_told(store: MemoryStore) -> None:
    change_bead(store, HAND, "N1-01", [volts("20V")], expects=1)
    with pytest.raises(ChangedMeanwhileError, match=r"changed by AB meanwhile .edition 2, you saw 1."):
        change_bead(store, HAND, "N1-01", [volts("24V")], expects=1)
    assert value(store) == 20.0


def test_a_race_for_a_number_is_run_again_but_a_lost_change_is_told(store: MemoryStore) -> None:
    stale = store.editions("N1-01")[0].record
    change_bead(store, HAND, "N1-01", [volts("20V")])
    with pytest.raises(ChangedMeanwhileError):
        write_next(store, HAND, "changed {}", lambda: [Write(record=stale, expects=1)])
    numbers = iter([1, 1, 2])
    written = write_next(store, HAND, "logged {}", lambda: [Write(record=Bead(code=f"N1-0{next(numbers)}"), expects=0)])
    assert written[0].record.code == "N1-02" and store.changes(limit=1)[0].words == "logged N1-02"


def test_a_trial_without_a_code_gets_one(store: MemoryStore) -> None:
    names = [keep_trial(store, HAND, "", f"m{k}", {"question": "?"})[0].code for k in range(2)]
    assert names == ["T1", "T2"]
    changed, new = keep_trial(store, HAND, "T1", "other", {"gas": "Ar"})
    assert not new and changed == Trial(code="T1", mark="m0", question="?", gas="Ar")


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("v", "volts"),
        ("Wire Feed", "wire_feed"),
        ("stick-out", "stick_out"),
        ("--feed", "wire_feed"),
        ("note", "remarks"),
    ],
)
def test_what_people_call_a_setting(word: str, name: str) -> None:
    assert setting_name(word) == name


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [("volt", "3", "mean volts"), ("xyz", "3", "settings are"), ("volts", "", "nothing behind"),
     ("volts", "-3V", "at least 0"),
     ("travel", "30", "needs its unit"), ("start", "-300°C", "at least -273.15"), ("volts", "5mm", "cannot be in")],
)  # fmt: skip
def test_settings_that_are_none(name: str, text: str, said: str) -> None:
    with pytest.raises(RefusedError, match=said):
        setting_of(name, text, "set", amount)


def test_a_cut_in_three_makes_pieces_that_know_each_other(store: MemoryStore) -> None:
    keep_coupon(store, HAND, "N1-01", {"length": 150.0, "place": "rack"})
    a, b, c = cut(store, HAND, "N1-01", at=(50.0, 100.0), kerf=2.0)
    assert [one.code for one in (a, b, c)] == ["N1-01-A", "N1-01-B", "N1-01-C"]
    assert [(one.start, one.stop) for one in (a, b, c)] == [(0.0, 49.0), (51.0, 99.0), (101.0, 150.0)]
    assert [(f.cut, f.other, f.end) for f in b.facing] == [(1, "N1-01-A", "start"), (2, "N1-01-C", "stop")]
    coupon = store.entry("N1-01-0")
    assert coupon is not None and isinstance(coupon.record, Coupon) and coupon.record.state == "cut up"
    with pytest.raises(RefusedError, match="cut up"):
        cut(store, HAND, "N1-01")


def test_a_piece_cut_further_hands_its_neighbours_on(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01", into=3)
    d, e = cut(store, HAND, "N1-01-B")
    assert [(f.other, f.end, f.cut) for f in d.facing] == [("N1-01-A", "start", 1), ("N1-01-E", "stop", 3)]
    assert [(f.other, f.end, f.cut) for f in e.facing] == [("N1-01-D", "start", 3), ("N1-01-C", "stop", 2)]
    assert whereabouts(store, "N1-01-A").facing[0][1].code == "N1-01-D"
    assert whereabouts(store, "N1-01-C").facing[0][1].code == "N1-01-E"
    assert d.parent == "N1-01-B"


@pytest.mark.parametrize(
    ("asked", "said"),
    [({"into": 1}, "at least 2"), ({"at": (40.0, 30.0)}, "rising"), ({"at": (40.0,), "kerf": -1.0}, "kerf"),
     ({"at": (200.0,)}, "outside")],
)  # fmt: skip
def test_cuts_that_cannot_be(store: MemoryStore, asked: dict[str, object], said: str) -> None:
    keep_coupon(store, HAND, "N1-01", {"length": 150.0})
    with pytest.raises(RefusedError, match=said):
        cut(store, HAND, "N1-01", **asked)  # type: ignore[arg-type]
    assert [one.code for one in store.below("N1-01")] == ["N1-01-0"]


def test_where_is_the_other_half(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01", place="drawer 3")
    keep_piece(store, HAND, "N1-01-B", state="lost")
    found = whereabouts(store, "N1-01-A")
    assert [(one.code, one.state, one.place) for _, one in found.facing] == [("N1-01-B", "lost", "drawer 3")]
    keep_piece(store, HAND, "N1-01-B", state="kept", place="bench")
    assert whereabouts(store, "N1-01-A").facing[0][1].place == "bench"
    assert [one.words for one in store.changes("N1-01-B", limit=2)] == ["N1-01-B found", "N1-01-B lost"]


def test_a_face_knows_what_it_met_and_what_was_done(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01")
    face, new = prepare_face(store, HAND, "N1-01-A", [Step(kind="grind", grit="P600")])
    assert new and face.code == "N1-01-A-1" and face.towards == "N1-01-B"
    face, new = prepare_face(store, HAND, "N1-01-A-1", [Step(kind="etch", etchant="nital 3 %", seconds=8.0)])
    assert not new and [one.kind for one in face.steps] == ["grind", "etch"]
    with pytest.raises(RefusedError, match="did not meet N1-01-Z"):
        prepare_face(store, HAND, "N1-01-A", [], towards="N1-01-Z")


def test_a_picture_finds_its_face(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01")
    entry, notes = add_picture(store, HAND, "N1-01-A", photo(), {"light": "ring"})
    assert entry.code == "N1-01-A-1-P1" and entry.light == "ring" and notes == ()
    again, notes = add_picture(store, HAND, "N1-01-A", photo())
    assert again == entry and "already" in notes[0] and len(store.changes("N1-01-A-1-P1")) == 1
    other, notes = add_picture(store, HAND, "N1-01-B", photo())
    assert other.code == "N1-01-B-1-P1" and "N1-01-A-1-P1" in notes[0]
    prepare_face(store, HAND, "N1-01-A", [])
    with pytest.raises(RefusedError, match="several faces"):
        add_picture(store, HAND, "N1-01-A", photo(b"x"))
    with pytest.raises(RefusedError, match="belongs to a face"):
        add_picture(store, HAND, "N1-01", photo(b"x"))


def test_undo_and_undo_of_undo(store: MemoryStore) -> None:
    change_bead(store, HAND, "N1-01", [volts("24V")])
    undo(store, HAND)
    assert value(store) == 18.5
    undo(store, HAND, 4)
    assert value(store) == 24.0
    assert [one.edition for one in store.editions("N1-01")] == [1, 2, 3, 4]


def value(store: MemoryStore) -> float | None:
    entry = store.entry("N1-01")
    assert entry is not None
    return next(one.value for one in entry.record.settings if one.name == "volts")  # type: ignore[union-attr]


def test_undo_goes_back_step_by_step(store: MemoryStore) -> None:
    change_bead(store, HAND, "N1-01", [volts("24V")])
    change_bead(store, HAND, "N1-01", [volts("25V")])
    with pytest.raises(RefusedError, match="changed again since, by change 4"):
        undo(store, HAND, 3)
    assert [undo(store, HAND).number for _ in range(3)] == [4, 3, 2]
    gone = store.entry("N1-01")
    assert gone is not None and gone.binned == "2026-03-14"
    undo(store, HAND)
    with pytest.raises(NotThereError, match="nothing to take back"):
        undo(store, HAND)


def test_undo_refuses_what_others_stand_on(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01")
    with pytest.raises(RefusedError, match="below N1-01 since"):
        undo(store, HAND, 2)


def test_undo_of_a_cut_makes_the_coupon_whole(store: MemoryStore) -> None:
    keep_coupon(store, HAND, "N1-01", {})
    cut(store, HAND, "N1-01")
    undo(store, HAND)
    coupon = store.entry("N1-01-0")
    assert coupon is not None and isinstance(coupon.record, Coupon) and coupon.record.state == "kept"
    assert store.below("N1-01", "piece") == ()
    assert [one.code for one in cut(store, HAND, "N1-01")] == ["N1-01-C", "N1-01-D"]


def test_the_bin_takes_all_that_is_below_and_gives_it_back(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01")
    put_in_bin(store, HAND, "N1-01-B")
    gone = put_in_bin(store, HAND, "N1-01")
    assert [one.code for one in gone] == ["N1-01", "N1-01-0", "N1-01-A"]
    with pytest.raises(NotThereError, match="in the bin"):
        change_bead(store, HAND, "N1-01", [])
    with pytest.raises(RefusedError, match="bring that back first"):
        bring_back(store, HAND, "N1-01-A")
    assert [one.code for one in bring_back(store, HAND, "N1-01")] == ["N1-01", "N1-01-0", "N1-01-A"]
    assert [one.code for one in store.binned()] == ["N1-01-B"], "what lay there before stays there"


@pytest.mark.parametrize(
    ("typed", "least", "most"),
    [
        ("volts=18..20", 18.0, 20.0),
        ("volts=18..", 18.0, None),
        ("volts=..20V", None, 20.0),
        ("feed=5..6m/min", 5.0, 6.0),
        ("travel=30..60cm/min", 5.0, 10.0),
        ("start=-10..20°C", -10.0, 20.0),
        ("thickness_1=1/4..1/2in", 6.35, 12.7),
    ],
)
def test_ranges(typed: str, least: float | None, most: float | None) -> None:
    found = range_of(typed, amount)
    assert (found.least, found.most) == (pytest.approx(least) if least is not None else None,
                                         pytest.approx(most) if most is not None else None)  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "inside", "outside"),
    [("volts=18", (17.5, 18.5), (17.4, 18.6)), ("volts=18.5", (18.45, 18.55), (18.4, 18.6)),
     ("travel=30cm/min", (29.5 / 6, 30.5 / 6), (29 / 6, 31 / 6)), ("leg_1=6.0mm", (5.95, 6.05), (5.9, 6.1))],
)  # fmt: skip
def test_a_single_value_is_meant_as_rounded(typed: str, inside: tuple[float, ...], outside: tuple[float, ...]) -> None:
    found = range_of(typed, amount)
    assert found.least is not None and found.most is not None
    assert all(found.least <= one <= found.most for one in inside)
    assert not any(found.least <= one <= found.most for one in outside)


@pytest.mark.parametrize("typed", ["volts=", "volts=20..18", "gas=3..4", "elbow=3", "volts=a..b"])
def test_ranges_that_are_none(typed: str) -> None:
    with pytest.raises(RefusedError):
        range_of(typed, amount)


def test_ranges_alone_show_beads_and_words_show_anything(store: MemoryStore) -> None:
    assert [one.code for one in find(store, ["volts=18..19V"], amount)] == ["N1-01"]
    assert [one.code for one in find(store, ["which"], amount)] == ["N1"]
    for words in ([], ["?"]):
        with pytest.raises(RefusedError, match="say what to look for"):
            find(store, words, amount)


def test_labels_tell_the_kin(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01")
    keep_piece(store, HAND, "N1-01-B", state="scrapped")
    made = labels(store, ["N1"])
    assert [one.code for one in made] == ["N1-01-A"], "no label for what is cut up or thrown away"
    assert made[0].scanned == f"ETCHBOOK:{made[0].written}" and made[0].lines[0] == "met N1-01-B"
    with pytest.raises(RefusedError, match="cut a coupon first"):
        labels(store, [keep_trial(store, HAND, "N2", "m2", {})[0].code])


def test_certificates() -> None:
    store = MemoryStore(Book(id="b", name="B"))
    made = [keep_certificate(store, HAND, "4711", shares([("C", "0.15"), ("Mn", "1.2%")])).code for _ in range(2)]
    assert made == ["CERT-1", "CERT-2"]
    entry = store.entry("CERT-1")
    assert (
        entry is not None
        and isinstance(entry.record, Certificate)
        and entry.record.composition == {"C": 0.15, "Mn": 1.2}
    )
    for pairs in ([("carbon", "1")], [("C", "-1")], [("C", "60"), ("Fe", "50")], [("C", "much")]):
        with pytest.raises(RefusedError):
            shares(pairs)


def test_kinds_of_records_are_told_apart(store: MemoryStore) -> None:
    cut(store, HAND, "N1-01")
    kinds = {one.code: type(one.record) for one in store.tree("N1")}
    assert kinds["N1-01-A"] is Piece and kinds["N1-01-0"] is Coupon and Face not in kinds.values()
    assert PictureEntry not in kinds.values()
