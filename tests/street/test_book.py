"""The book as a welder uses it: words in, what was printed and the exit code out."""

import json
from pathlib import Path

import pytest
from PIL import Image

from .conftest import Answer, Ask


@pytest.fixture
def book(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A new book with one bead that was cut, opened for the commands that follow."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("ETCHBOOK_BY", "AB")
    monkeypatch.delenv("ETCHBOOK_BOOK", raising=False)
    monkeypatch.chdir(tmp_path)
    assert ask("book", "new", tmp_path / "bay", "--name", "Bay").code == 0
    assert ask("trial", "N1", "--question", "Which gas?", "--joint", "tee", "--thickness-1", "8mm").code == 0
    words = ("volts=18.5", "--feed", "5.6m/min", "travel=30cm/min", "--read", "amps=165", "--seen", "spatter")
    assert ask("bead", "N1", *words).out.startswith("logged bead N1-01")
    assert ask("cut", "N1-01", "--place", "rack 2").code == 0
    return tmp_path / "bay"


def fine(answer: Answer) -> str:
    assert answer.code == 0, answer.err
    return answer.out


def test_a_scanned_label_opens_the_piece_and_tells_the_other_half(ask: Ask, book: Path) -> None:
    written = fine(ask("label", "N1")).splitlines()[1].split("\t")[0]
    assert written.startswith("N1-01-A/")
    fine(ask("piece", "N1-01-B", "--lost"))
    told = fine(ask("open", f"ETCHBOOK:{written}"))
    assert "in rack 2" in told and "other half at its stop: N1-01-B, LOST" in told
    wrong = f"{written[:-1]}{'A' if written[-1] != 'A' else 'B'}"
    answer = ask("open", wrong)
    assert answer.code == 2 and "check letter" in answer.err


def test_labels_are_printed(ask: Ask, book: Path, tmp_path: Path) -> None:
    fine(ask("label", "N1", "--out", tmp_path / "l.pdf", "--size", "38x21"))
    assert (tmp_path / "l.pdf").read_bytes().startswith(b"%PDF-")
    assert "38x21" in fine(ask("label", "--sizes"))


def test_find_shows_what_it_found(ask: Ask, book: Path) -> None:
    assert [row["code"] for row in json.loads(fine(ask("find", "volts=18..19V", "--json")))] == ["N1-01"]
    assert [row["code"] for row in json.loads(fine(ask("find", "rack", "--json")))] == ["N1-01-A", "N1-01-B"]
    assert fine(ask("find", "nowhere")) == "nothing was found\n"


def test_undo_history_and_bin(ask: Ask, book: Path) -> None:
    fine(ask("bead", "N1-01", "volts=24"))
    assert "changed bead N1-01" in fine(ask("history", "N1-01"))
    assert "took back change" in fine(ask("undo"))
    assert json.loads(fine(ask("open", "N1-01", "--json")))["edition"] == 3
    fine(ask("bin", "N1-01-B"))
    assert "N1-01-B" in fine(ask("bin"))
    assert "IN THE BIN" in fine(ask("open", "N1-01-B"))
    fine(ask("bin", "N1-01-B", "--back"))
    assert "N1-01-B" not in fine(ask("bin"))


def test_a_picture_is_read_into_the_book(ask: Ask, book: Path, painted: Path) -> None:
    photo = painted / "tee_00005.png"
    words = ("--joint", "tee", "--scale", "30", "--into", "N1-01-A", "--against", "iso-5817:B")
    told = fine(ask("read", photo, *words))
    assert "in the book: N1-01-A-1-P1-R1, edition 1 (automatic)" in told and "N1-01-A-1-P1-R1-J1" in told
    marks = painted.parent / "marks.json"
    marks.write_text(json.dumps({"toe_1": [200, 200]}))
    again = ask("read", photo, "--joint", "tee", "--scale", "30", "--marks", marks, "--into", "N1-01-A-1-P1")
    assert "edition 2 (corrected)" in fine(again)
    first = json.loads(fine(ask("open", "N1-01-A-1-P1-R1", "--edition", "1", "--json")))["record"]
    assert first["made"] == "automatic" and first["dimensions"]
    assert ask("open", "N1-01-A-1-P1-R1", "--edition", "9").code == 2
    assert fine(ask("book", "verify")) == ""


def test_copies_leave_without_their_place(ask: Ask, book: Path, tmp_path: Path) -> None:
    exif = Image.Exif()
    exif.get_ifd(0x8825).update({1: "N", 2: (51.0, 30.0, 0.0)})
    Image.new("RGB", (300, 200), "grey").save(tmp_path / "p.jpg", exif=exif)
    fine(ask("picture", "N1-01-A", tmp_path / "p.jpg", "--light", "ring"))
    fine(ask("picture", "N1-01-A-1-P1", "--out", tmp_path / "copy.jpg"))
    fine(ask("book", "export", "N1", tmp_path / "n1.zip"))
    fine(ask("book", "new", tmp_path / "other"))
    fine(ask("book", "import", tmp_path / "n1.zip"))
    fine(ask("picture", "N1-01-A-1-P1", "--out", tmp_path / "travelled.jpg"))
    for name in ("copy.jpg", "travelled.jpg"):
        with Image.open(tmp_path / name) as image:
            assert not image.getexif().get_ifd(0x8825) and image.size == (300, 200)
    kept = next((book / "originals").glob("??/*.jpg"))
    assert kept.read_bytes() == (tmp_path / "p.jpg").read_bytes(), "the original in the book is never changed"


def test_a_table_of_settings_comes_in_and_goes_out(ask: Ask, book: Path, tmp_path: Path) -> None:
    (tmp_path / "s.csv").write_text("bead,volts [V],travel [in/min]\nN1-01,20,12\nN1-02,21,13\n")
    assert fine(ask("book", "import", tmp_path / "s.csv")).startswith("logged 1 beads, changed 1")
    text = fine(ask("book", "export", "N1", "--csv", "-"))
    assert text.splitlines()[0].startswith("bead,welded,volts set [V]") and len(text.splitlines()) == 3


def test_backup_and_restore(ask: Ask, book: Path, tmp_path: Path) -> None:
    fine(ask("book", "backup", tmp_path / "copy"))
    fine(ask("bin", "N1"))
    fine(ask("book", "restore", tmp_path / "copy", tmp_path / "back"))
    assert "Bay, in" in fine(ask("book", "info")) and str(tmp_path / "back") in fine(ask("book", "info"))
    assert "N1-01-A" in fine(ask("open", "N1"))
    assert ask("book", "backup", tmp_path / "copy").code == 2


def test_verify_names_what_is_damaged(ask: Ask, book: Path, painted: Path) -> None:
    fine(ask("picture", "N1-01-A", painted / "tee_00005.png"))
    kept = next((book / "originals").glob("??/*.png"))
    kept.chmod(0o644)
    kept.write_bytes(b"x")
    answer = ask("book", "verify")
    assert answer.code == 1 and "N1-01-A-1-P1" in answer.out and "damaged" in answer.out


def test_which_book_is_meant(ask: Ask, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fine(ask("book", "new", tmp_path / "second"))
    assert "second" in fine(ask("book", "info"))
    assert "Bay" in fine(ask("book", "info", "--book", book))
    monkeypatch.chdir(book / "originals")
    assert "Bay" in fine(ask("book", "info"))
    monkeypatch.setenv("ETCHBOOK_BOOK", str(tmp_path / "second"))
    assert "second" in fine(ask("book", "info"))


def test_without_a_book_it_says_how_to_make_one(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.delenv("ETCHBOOK_BOOK", raising=False)
    monkeypatch.chdir(tmp_path)
    answer = ask("trial")
    assert answer.code == 2 and "etchbook book new FOLDER" in answer.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("bead", "N1", "volt=3"), "did you mean volts"),
        (("bead", "N1", "travel=30"), "needs its unit"),
        (("bead", "N1", "volts"), "a name and a value"),
        (("bead", "N1", "--volts"), "nothing behind"),
        (("bead", "N1-09", "volts=3"), "no bead N1-09"),
        (("bead", "N1", "volts=3", "--welded", "yesterday"), "2026-03-14T09:30"),
        (("trial", "N1-01", "--gas", "Ar"), "code of a bead"),
        (("trial", "N2", "--thickness-1", "8mm"), "say --joint"),
        (("trial", "Q1", "--gas", "Ar"), "not used"),
        (("cut", "N1-01"), "cut up"),
        (("cut", "N1-01-A", "--into", "1"), "at least 2"),
        (("coupon", "N1-01", "--plate", "3:S275"), "1:S275,8mm"),
        (("piece", "N1-01-A", "--lost", "--found"), "not several at once"),
        (("piece", "N1-01-Z"), "no piece N1-01-Z in the book; there are N1-01-A, N1-01-B"),
        (("face", "N1-01-A", "--time", "8s"), "belongs to one step"),
        (("face", "N1-01-A", "--etch", "nital 3 %", "--time", "8"), ""),
        (("picture", "N1-01-A", "no.jpg"), "no.jpg"),
        (("certificate", "C=0.1"), "--heat"),
        (("label",), "what the labels are for"),
        (("label", "N1", "--size", "9x9"), "70x37"),
        (("open", "what"), "no code"),
        (("open", "N9"), "no trial N9"),
        (("find", "volts=20..18V"), "begins above its end"),
        (("find", "x", "--kind", "thing"), "bead, coupon"),
        (("undo", "99"), "no change 99"),
        (("bin", "--back"), "say what is to come back"),
        (("bin", "N1-01-A", "--back"), "not in the bin"),
        (("book", "open", "nowhere"), "no folder nowhere"),
        (("book", "new", "bay"), "a book already"),
        (("book", "import", "nothing.zip"), "nothing.zip"),
        (("book", "import", "etchbook.csv"), "etchbook.csv"),
        (("book", "restore", "nowhere", "there"), "nowhere"),
        (("read", "p.jpg", "--into", "N1-01"), "a reading is saved on a piece"),
        (("read", "p.jpg", "--into", ""), "--into"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(ask: Ask, book: Path, words: tuple[str, ...], said: str) -> None:
    before = json.loads(fine(ask("book", "info", "--json")))["counts"]
    answer = ask(*words)
    if said:
        assert answer.code == 2 and said in answer.err, answer.err
        assert len(answer.err.strip().splitlines()) == 1 and "Traceback" not in answer.err
        assert json.loads(fine(ask("book", "info", "--json")))["counts"] == before
    else:
        fine(answer)
