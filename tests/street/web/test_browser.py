"""The bench in a real browser, on a desk and on a phone: nothing is blocked, nothing overflows, help works."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from etchbook.simulate import PaintedSection

sync_api = pytest.importorskip("playwright.sync_api")
CHROMIUM = Path("/usr/bin/chromium")
SIZES = {"desk": {"width": 1280, "height": 800}, "phone": {"width": 390, "height": 844}}

pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")


@pytest.fixture(params=["desk", "phone"])
def sheet(request: pytest.FixtureRequest, bench) -> Iterator[object]:
    """A page of the browser; what its console complains of is gathered in `complaints`."""
    with sync_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        context = browser.new_context(
            viewport=SIZES[request.param], has_touch=request.param == "phone", base_url=bench.address
        )
        made = context.new_page()
        made.complaints = []
        made.on("console", lambda told: made.complaints.append(told.text) if told.type == "error" else None)
        made.on("pageerror", lambda error: made.complaints.append(str(error)))
        yield made
        browser.close()


def go(sheet, role: str, name: str) -> None:
    with sheet.expect_navigation(timeout=90_000):
        sheet.get_by_role(role, name=name).first.click()


def fits(sheet) -> None:
    wide = sheet.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0, f"{sheet.url} is {wide} px too wide"
    unnamed = sheet.evaluate(
        "[...document.querySelectorAll('input:not([type=hidden]),select')].filter(e => !e.labels.length).length"
    )
    assert unnamed == 0, f"{sheet.url} has fields without a label"
    assert sheet.locator("h1").count() == 1


def test_the_whole_story(sheet, bench, painted: tuple[PaintedSection, bytes], tmp_path: Path) -> None:
    photo = tmp_path / "weld.png"
    photo.write_bytes(painted[1])
    sheet.goto("/")
    fits(sheet)
    go(sheet, "link", "Start a trial")
    sheet.get_by_label("What is it to answer?").fill("does it hold?")
    sheet.get_by_label("Joint").select_option("tee")
    sheet.get_by_label("Thickness of member 1").fill("8 mm")
    fits(sheet)
    go(sheet, "button", "Begin the trial")
    go(sheet, "link", "Log a bead")
    sheet.get_by_label("Volts", exact=True).fill("18.5 V")
    sheet.get_by_role("button", name="more volts").click()
    assert sheet.get_by_label("Volts", exact=True).input_value() == "18.6 V"
    fits(sheet)
    go(sheet, "button", "Log the bead")
    fits(sheet)
    go(sheet, "button", "Cut it")
    fits(sheet)
    go(sheet, "button", "Make its face")
    fits(sheet)
    sheet.get_by_label("Photograph", exact=True).set_input_files(photo)
    sheet.get_by_label("Where do the millimetres come from?").select_option("thickness_1=8")
    go(sheet, "button", "Put it on this face and read it")
    sheet.wait_for_url("**/reading/*", timeout=90_000)  # the page goes there by itself when the job is done
    fits(sheet)
    sheet.get_by_label("Limits").select_option("iso-5817:B")
    go(sheet, "button", "Hold the reading against them")
    assert sheet.locator("svg.axis").count() >= 5
    fits(sheet)
    go(sheet, "link", "Look at the report")
    fits(sheet)
    href = sheet.get_by_role("link", name="Make the PDF").get_attribute("href")
    assert bench.get(href).content.startswith(b"%PDF")
    assert sheet.complaints == []


def test_forms_work_without_script(bench) -> None:
    with sync_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        made = browser.new_context(java_script_enabled=False, base_url=bench.address).new_page()
        made.goto("/trial/new")
        made.get_by_label("Code", exact=True).fill("N1")
        made.get_by_role("button", name="Begin the trial").click()
        assert made.url.endswith("/open/N1")
        browser.close()
