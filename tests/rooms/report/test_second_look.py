"""The file for a second pair of eyes; its block of text is taken in again by the verb that reads answers."""

import html
import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path
from zlib import crc32

import numpy as np
import pytest

from etchbook.picture import Picture
from etchbook.report.second_look import SecondLook, second_look
from etchbook.section import Preparation
from etchbook.usecases import RefusedError
from etchbook.usecases.answering import HEAD, said_in
from etchbook.usecases.explaining import explain
from rooms.usecases.marked import plate_line, reading_with

CHROMIUM = shutil.which("chromium")
PIXELS = np.full((300, 500, 3), 40000, np.uint16)
PICTURE = Picture(rgb=PIXELS, sha256="ab" * 32, name="plate.jpg")


def _page(answers: str = "", **changes) -> str:
    reading = replace(reading_with(plate_line()), **changes)
    explained = explain(reading, said_in(answers) if answers else None)
    look = SecondLook(
        reading=reading,
        explained=explained,
        picture=PICTURE,
        others={"before etching": PICTURE},
        today=date(2026, 5, 4),
    )
    return second_look(look)


def _block(*rows: str) -> str:
    text = "\n".join((HEAD, *rows))
    return f"{text}\nchecksum {crc32(text.encode()):08x}"


def test_the_page_needs_nothing_from_outside():
    page = _page()
    assert not re.search(r"""(?:src|href|url\()\s*=?\s*["']?(?!data:)(?:https?:|//|[a-z]+\.)""", page)
    assert "default-src 'none'" in page


def test_both_pictures_are_inside_at_their_full_size():
    assert _page().count("data:image/jpeg;base64,") == 2
    assert _page().count('data-width="500" data-height="300"') == 2


def test_words_of_people_cannot_become_part_of_the_page():
    evil = '"><script>alert(1)</script>'
    page = _page(f"[a]\nwords = '''{evil}'''", preparation=Preparation(specimen=evil))
    assert "<script>alert" not in page
    assert html.escape(evil) in page


def test_every_open_question_has_a_box_for_each_answer_and_one_for_none():
    page = _page()
    for state in ("opening", "nothing", "grey_dashes", ""):
        assert f'name="a.unetched_look" value="{state}"' in page


def test_what_was_answered_is_shown_with_its_author():
    assert "Answered so far: yes (MK7)" in _page('by = "MK7"\n[a]\nweeps = true')


def test_a_block_is_taken_in_out_of_the_middle_of_a_mail():
    block = _block("reading abab", "by MK7", "answer a weeps yes", "words a it stays", "words a black")
    mail = "Hello,\n> " + block.replace("\n", "\r\n> ") + "\nregards"
    said = said_in(mail)
    (answer,) = said.answers["a"]
    assert (answer.observation, answer.state, answer.by) == ("weeps", "yes", "MK7")
    assert [(remark.by, remark.text) for remark in said.words] == [("MK7", "it stays black")]
    assert explain(reading_with(plate_line()), said)[0].words == said.words


@pytest.mark.parametrize(
    ("block", "says"),
    [
        (_block("by MK7", "answer a weeps yes").replace("yes", "no"), "checksum does not fit"),
        (_block("by MK7").rpartition("\n")[0], "not whole"),
        (_block("answer a weeps yes"), "by whom"),
        (_block("by MK7", "answer a weeps"), "three words"),
        (_block("by MK7", "sing a song"), "not known"),
        (_block("by " + "x" * 41), "at most 40"),
        (HEAD[:-1] + "9\nby MK7\nchecksum 00000000", "of another make"),
    ],
)
def test_a_block_that_was_spoilt_is_refused_in_one_sentence(block, says):
    with pytest.raises(RefusedError, match=says):
        said_in(block)


def test_a_block_for_another_picture_is_refused():
    said = said_in(_block("reading ffff", "by MK7", "answer a weeps yes"))
    with pytest.raises(RefusedError, match="another picture"):
        explain(reading_with(plate_line()), said)


@pytest.mark.slow
@pytest.mark.skipif(CHROMIUM is None, reason="needs a browser")
def test_what_is_ticked_in_a_browser_comes_back(tmp_path: Path):
    drive = (
        "<script>document.querySelector('#by').value = ' MK 7 ';"
        'document.querySelector(\'input[name="a.unetched_look"][value="nothing"]\').checked = true;'
        "document.querySelector('#words_a').value = 'Körner, no opening; ' + 'and so on '.repeat(12);"
        "document.querySelector('#make').click();"
        "document.title = document.querySelector('#block').value;</script>"
    )
    # The drive is a script of the test's own, so the seal that lets in only the page's script is taken off for it.
    page = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", _page()).replace(
        "</body>", f"{drive}</body>"
    )
    (tmp_path / "look.html").write_text(page, encoding="utf-8")
    words = [CHROMIUM or "", "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom"]
    words += [f"--user-data-dir={tmp_path / 'profile'}", (tmp_path / "look.html").as_uri()]
    dump = subprocess.run(words, capture_output=True, text=True, timeout=120, check=True).stdout
    title = re.search(r"<title>(.*?)</title>", dump, re.DOTALL)
    assert title is not None
    said = said_in(html.unescape(title.group(1)))
    assert [(answer.state, answer.by) for answer in said.answers["a"]] == [("nothing", "MK 7")]
    assert said.words[0].text == ("Körner, no opening; " + "and so on " * 12).strip()
    assert all(len(line) <= 76 for line in html.unescape(title.group(1)).splitlines())
