"""The report as one HTML page, and the entries that it shares with the PDF."""

import re
from datetime import date
from html.parser import HTMLParser

import pytest

from etchbook.acceptance.records import Judgement, Verdict
from etchbook.report import page, reading_html
from etchbook.report.contents import contents
from etchbook.report.facts import Issue
from etchbook.report.verdicts import summary
from etchbook.section import PictureFacts, Preparation, Reading
from rooms.report import example, others

DAY = date(2026, 3, 9)


class Seen(HTMLParser):
    """Text, tags and links of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text, self.tags, self.links = "", [], []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value or "" for key, value in attrs if key in ("src", "href", "action", "data", "poster")]

    def handle_data(self, data: str) -> None:
        self.text += data


def told(reading: Reading, judgement: Judgement | None) -> dict:
    return contents(Issue(reading=reading, judgement=judgement, window=(0, 0, 1000, 800), today=DAY))


def test_the_page_says_what_was_read_judged_and_left_out() -> None:
    seen = Seen(page(example.reading(), example.picture(), example.judgement(), today=DAY))
    for words in (
        "6.20 ± 0.09 mm",
        "9 March 2026",
        "1 + 0.1 × 8.36 = 1.84 mm, at most 3 mm",
        "ISO 5817 (2014), Table 1, 1.7, from memory",
        "the HAZ edge on member 2 does not stand out from the plate",
        "not given",
        "40.00 ± 0.24 pixels per mm (k = 2), from the known thickness of plate 1, 8 mm",
        "Nital 5 %, 20 s",
        "ISO 17639",
        "never a certificate",
        "ab" * 32,
    ):
        assert words in seen.text, words
    for verdict in Verdict:
        assert str(verdict) in seen.text


def test_the_page_fetches_nothing_and_runs_nothing() -> None:
    html = page(example.reading(), example.picture(), example.judgement(), today=DAY)
    seen = Seen(html)
    assert all(link.startswith("data:") for link in seen.links)
    assert not re.findall(r"url\((?!\"data:|#)", html)
    assert not {"script", "iframe", "object", "embed", "link", "form"} & set(seen.tags)
    assert set(re.findall(r"https?://[^\s\"'<>]+", html)) == {"http://www.w3.org/2000/svg"}


@pytest.mark.parametrize("show", ["page", "notebook"])
def test_words_of_people_stay_words(show: str) -> None:
    name = PictureFacts(sha256="", name=example.HOSTILE, width=1000, height=800)
    said = Preparation(etchant=example.HOSTILE, specimen=example.HOSTILE, reader='"><img src=x onerror=alert(1)>')
    reading = example.reading(picture=name, preparation=said, notes=(example.HOSTILE,))
    whole = page(reading, example.picture(), today=DAY) if show == "page" else reading_html(reading)
    seen = Seen(whole)
    assert "script" not in seen.tags and "img" not in seen.tags
    assert '<script>alert("x")</script>' in seen.text
    assert "\x07" not in whole


def test_key_numbers_are_those_that_were_read() -> None:
    key = {row["label"]: row["value"] for row in told(example.reading(), None)["key"]}
    assert key == {
        "leg 1": "6.20 ± 0.09 mm",
        "leg 2": "5.60 ± 0.08 mm",
        "throat a": "4.36 ± 0.07 mm",
        "root penetration": "0.78 ± 0.12 mm",
        "penetration 1": "1.30 ± 0.12 mm",
        "penetration 2": "1.05 ± 0.10 mm",
    }
    assert told(others.nothing(), None)["key"] == []


def test_k_follows_the_degrees_of_freedom() -> None:
    rows = {row["label"]: row["k"] for row in told(example.reading(), None)["dimensions"]}
    assert rows["leg on member 1"] == "2"
    # Student's t at 9 degrees of freedom and 95 %: 2.26 (JCGM 100:2008, table G.2).
    assert rows["penetration into member 1"] == "2.26"


def test_the_summary_leads_with_the_worst_and_never_passes_plainly() -> None:
    words = summary(example.judgement())
    assert words.index("not met") < words.index("too close") < words.index("as far as one section can show")
    assert summary(None) == "The reading was not held against any limits."
    first = [row["verdict"] for row in told(example.reading(), example.judgement())["first"]]
    assert first == ["not met", "too close to say", "only if short"]


def test_magnification_is_that_of_the_print() -> None:
    # 1000 px at 40 px/mm are 25 mm, printed 170 mm wide: 6.8 times.
    assert told(example.reading(), None)["photo_caption"].endswith("Printed 6.8 times its size when on A4.")
    assert "not known" in told(example.reading(scaled=False), None)["photo_caption"]


def test_what_nobody_said_is_not_given() -> None:
    rows = {row["label"]: row["value"] for row in told(example.reading(preparation=Preparation()), None)["facts"]}
    for label in ("Specimen", "Place of the cut", "Parent metal", "Finish of the face", "Etchant", "Read by"):
        assert rows[label] == "not given"


def test_the_notebook_shows_drawing_and_every_dimension() -> None:
    reading = example.reading()
    seen = Seen(reading_html(reading))
    assert "svg" in seen.tags
    assert all(name in seen.text for name in reading.dimensions)
    assert "5.60 ± 0.08 mm" in seen.text
