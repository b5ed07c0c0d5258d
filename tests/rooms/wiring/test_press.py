"""Pages of a reading through the wiring: each kind is made, and made of the reading at hand."""

import json
from datetime import date
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.acceptance import judge
from etchbook.tables import load_limits
from etchbook.usecases import RefusedError
from etchbook.wiring.library import judge as library_judge
from etchbook.wiring.press import KINDS, ReportPress
from etchbook.wiring.view import ReadingView
from rooms.report.example import SIZE, picture, reading

FIRST_BYTES = {
    "json": b"{",
    "csv": b"",
    "regions": b"\x89PNG",
    "overlay.png": b"\x89PNG",
    "overlay.svg": b"<svg",
    "pdf": b"%PDF-",
    "html": b"<!",
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_page_is_made_and_made_again_to_the_letter(kind: str) -> None:
    press = ReportPress(date(2026, 1, 2))
    verdicts = judge(reading(), load_limits("iso-5817:B"))
    page = press.page(kind, reading(), verdicts, picture())
    assert page.startswith(FIRST_BYTES[kind]) and len(page) > 100
    assert press.page(kind, reading(), verdicts, picture()) == page


def test_regions_have_the_size_of_the_photo() -> None:
    view = ReadingView(reading(), picture())
    page = ReportPress().page("regions", view.record, None, None)
    assert Image.open(BytesIO(page)).size == SIZE


def test_a_kept_reading_is_judged_as_the_one_it_was(tmp_path: Path) -> None:
    view = ReadingView(reading(), picture())
    kept = view.save(tmp_path / "r.json")
    before, after = view.judge("iso-5817:B"), library_judge(kept, against="iso-5817:B")
    assert [finding.verdict for finding in before.findings] == [finding.verdict for finding in after.findings]
    assert before.counts == after.counts


def test_saving_keeps_the_judgement(tmp_path: Path) -> None:
    view = ReadingView(reading(), picture())
    view.save(tmp_path / "r.json", view.judge("iso-5817:C"))
    assert json.loads((tmp_path / "r.json").read_text())["judgement"]["against"] == "iso-5817:C"
    assert view.save(tmp_path / "r.pdf").read_bytes().startswith(b"%PDF-")


def test_a_view_shows_itself() -> None:
    view = ReadingView(reading(), picture())
    assert "<svg" in view._repr_html_() and "leg" in view._repr_html_()
    assert "leg_1: " in repr(view)
    assert view.dimensions is view.record.dimensions and view.scale is view.record.scale


def test_an_unknown_kind_is_a_fault() -> None:
    with pytest.raises(TypeError):
        ReportPress().page("docx", reading(), None, picture())


def test_text_that_is_no_json_is_refused() -> None:
    with pytest.raises(RefusedError, match="not JSON"):
        ReportPress().reading("{")


def test_an_example_holds_the_photo_byte_by_byte() -> None:
    pages = ReportPress().example(reading(), b"bytes of a photo", ".jpg")
    assert pages["photo.jpg"] == b"bytes of a photo"
    labels = np.asarray(Image.open(BytesIO(pages["regions.png"])))
    assert set(np.unique(labels)) <= {0, 1, 2, 3}
