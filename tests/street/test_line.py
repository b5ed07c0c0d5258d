"""The commands line, second-look and plate, from the keyboard to the files."""

import hashlib
import io
import json
import sys
from dataclasses import replace
from pathlib import Path
from zlib import crc32

import numpy as np
import pytest
from PIL import Image

import etchbook
from etchbook.report import reading_document
from etchbook.section import PictureFacts
from rooms.usecases.marked import mm, plate_line, reading_with


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A reading with one indication, and its photo beside it."""
    light = np.full((300, 500, 3), 150, np.uint8)
    light[97:104, 10:400] = 90
    Image.fromarray(light).save(tmp_path / "plate.png")
    fingerprint = hashlib.sha256((tmp_path / "plate.png").read_bytes()).hexdigest()
    reading = reading_with(plate_line(), nominal_throat=mm(5.0, 0.05), thickness_1=mm(12.0, 0.05))
    facts = PictureFacts(sha256=fingerprint, name="plate.png", width=500, height=300)
    document = reading_document(replace(reading, picture=facts, program="etchbook"))
    (tmp_path / "r.json").write_text(json.dumps(document), encoding="utf-8")
    return tmp_path


def _block(folder: Path, *rows: str) -> Path:
    text = "\n".join(("etchbook second look 1", *rows))
    path = folder / "block.txt"
    path.write_text(f"Hello\n{text}\nchecksum {crc32(text.encode()):08x}\n", encoding="utf-8")
    return path


def test_line_says_what_it_is_and_what_to_do_next(ask, kept):
    told = ask("line", kept / "r.json")
    assert told.code == 0
    assert told.out.startswith("a: likely: centreline segregation (in the plate)")
    assert "next test: polish again and look before etching" in told.out
    assert "An etched photo alone never proves a lamination" in told.out


def test_a_second_look_is_weighed_under_its_code(ask, kept):
    plain = json.loads(ask("line", kept / "r.json", "--json").out)[0]
    block = _block(kept, "by MK7", "answer a unetched_look opening", "words a a clear gap")
    looked = json.loads(ask("line", kept / "r.json", "--answers", block, "--json").out)[0]
    chance = {name: {row["cause"]: row["chance"] for row in held["causes"]} for name, held in
              (("before", plain), ("after", looked))}  # fmt: skip
    assert chance["after"]["lamination"] > 5 * chance["before"]["lamination"]
    assert {"observation": "unetched_look", "state": "opening", "by": "MK7", "words": ""} in looked["answers"]
    assert looked["words"] == [{"by": "MK7", "text": "a clear gap"}]


def test_asking_one_question_at_a_time_keeps_what_was_answered(ask, kept, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO("7\n2\n\nq\n"))
    told = ask("line", kept / "r.json", "--ask", "--keep", kept / "mine.toml", "--by", "JD")
    assert told.code == 0
    assert "please a number from 1 to 3" in told.err
    assert (kept / "mine.toml").read_text(encoding="utf-8") == 'by = "JD"\n[a]\nunetched_look = "nothing"\n'
    again = ask("line", kept / "r.json", "--answers", kept / "mine.toml")
    assert "(JD)" in again.out


def test_reports_with_a_page_for_each_indication(ask, kept):
    told = ask("line", kept / "r.json", "--pdf", kept / "r.pdf", "--html", kept / "r.html")
    assert told.code == 0
    assert (kept / "r.pdf").read_bytes().startswith(b"%PDF")
    assert "Indication a: line, plate 1" in (kept / "r.html").read_text(encoding="utf-8")


def test_second_look_writes_one_file(ask, kept):
    told = ask("second-look", kept / "r.json", "--out", kept / "look.html")
    assert told.code == 0
    page = (kept / "look.html").read_text(encoding="utf-8")
    assert 'data-width="500"' in page and "unetched_look" in page


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("line", "r.json", "--answers", "nowhere.toml"), "does not exist"),
        (("line", "r.json", "--keep", "x.toml"), "--keep goes with --ask"),
        (("second-look", "r.json", "--photo", "other.png"), "not the photo that was read"),
        (("plate", "r.json"), "name --detail"),
        (("plate", "r.json", "--detail", "penetration"), "give it with --depth"),
        (("plate", "--detail", "penetration", "--depth", "9", "--throat", "6"), "given twice"),
        (("plate", "--area", "-4"), "above 0"),
    ],
)
def test_bad_input_is_one_sentence_and_nothing_is_written(ask, kept, words, says, monkeypatch):
    monkeypatch.chdir(kept)
    Image.new("RGB", (90, 90), (9, 9, 9)).save("other.png")
    before = sorted(path.name for path in kept.iterdir())
    told = ask(*words)
    assert told.code == 2
    assert says in told.err and told.err.count("\n") == 1
    assert sorted(path.name for path in kept.iterdir()) == before


def test_a_moved_photo_is_asked_for(ask, kept):
    (kept / "plate.png").rename(kept / "moved.png")
    refused = ask("second-look", kept / "r.json", "--out", kept / "look.html")
    assert refused.code == 2 and "name it with --photo" in refused.err
    assert ask("second-look", kept / "r.json", "--photo", kept / "moved.png", "--out", kept / "look.html").code == 0


def test_plate_shows_classes_and_the_sum_of_the_joint(ask, kept):
    told = ask("plate", kept / "r.json", "--detail", "multi_run_fillet", "--restraint", "low", "--area", "600")
    assert told.code == 0
    assert "would not allow 600 mm²" in told.out
    assert "ZEd = 0 + 0 + 4 + 0 + 0 = 4: the joint asks for no Z class" in told.out
    assert "accepted" not in told.out


def test_the_library_explains_what_it_read(kept):
    (one,) = etchbook.explain(kept / "r.json")
    assert one.weighed.sentence == "likely: centreline segregation"
    (kept / "mine.toml").write_text('[a]\nunetched_look = "opening"\n', encoding="utf-8")
    (looked,) = etchbook.explain(kept / "r.json", kept / "mine.toml")
    assert looked.weighed.first.chance < one.weighed.first.chance
