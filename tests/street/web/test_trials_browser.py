"""Trials and arithmetic walked through in a real browser, on a desk and on a phone, with axe on every page."""

import json
from pathlib import Path

import pytest

from .storybook import fill
from .test_browser import CHROMIUM, Sheet, sheet

assert sheet  # a fixture
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")


def opened(sheet: Sheet, address: str) -> None:
    sheet.page.goto(address)
    sheet.sound()


def words(sheet: Sheet, place: str) -> str:
    return str(sheet.page.locator(place).first.inner_text())


def test_from_two_groups_to_the_cause_and_to_the_trial_that_proves_it(sheet: Sheet, bench, tmp_path: Path) -> None:
    fill(bench.folder)
    opened(sheet, "/compare")
    for code, side in (("N2-01", "first"), ("N2-02", "first"), ("N2-03", "second"), ("N2-04", "second")):
        sheet.page.get_by_role("group", name=code, exact=True).get_by_label(side).check()
    sheet.fill("First group is called", "bay A")
    sheet.press("button", "Compare them")
    assert "A difference is shown" in words(sheet, ".said")
    assert sheet.page.locator("figure.drawing svg").count() == 4
    sheet.sound()
    sheet.press("link", "Find the cause")
    assert "stick-out" in words(sheet, ".said")
    sheet.sound()
    opened(sheet, "/next-check/ask")
    question = words(sheet, ".question h2")
    sheet.press("button", "No", exact=True)
    assert words(sheet, ".question h2") != question
    sheet.sound()
    sheet.press("link", "Take it back")
    assert words(sheet, ".question h2") == question
    planned(sheet, tmp_path)
    assert not sheet.complaints


def planned(sheet: Sheet, tmp_path: Path) -> None:
    opened(sheet, "/plan/new")
    sheet.fill("What is the trial to answer?", "Does a longer stick-out raise the bead?")
    sheet.fill("One thing", "15 mm")
    sheet.fill("The other thing", "22 mm")
    sheet.page.get_by_role("textbox", name="Smallest difference worth knowing").fill("0.3")
    sheet.page.get_by_label("Welded").select_option("mechanised")
    sheet.press("button", "Plan it and lock the rule")
    sheet.sound()
    for _ in range(2):  # a paper may be taken out again
        with sheet.page.expect_download() as download:
            sheet.press("button", "Take out the sealed key", stays=True)
    download.value.save_as(tmp_path / "key.json")
    key = json.loads((tmp_path / "key.json").read_text(encoding="utf-8"))["codes"]
    sheet.press("link", "Decide it by its rule")
    sheet.sound()
    for code, held in key.items():
        sheet.fill(f"Result of {code}", "1.5±0.03" if held["arm"] == "22 mm" else "1.0±0.03")
    sheet.press("button", "Decide, once")
    assert "Effect by the locked rule: difference +0.50" in words(sheet, ".said")
    sheet.sound()


def test_a_form_says_beside_the_field_what_is_wrong_and_keeps_what_was_typed(sheet: Sheet) -> None:
    opened(sheet, "/gas/contents")
    for label, text in (("Its share", "18"), ("Water capacity", "50"), ("Cylinder gauge shows", "120 bar"),
                        ("Temperature of the cylinder", "8 °C")):  # fmt: skip
        sheet.page.get_by_role("textbox", name=label).fill(text)
    sheet.press("button", "How much is left")
    field = sheet.page.get_by_role("textbox", name="Water capacity")
    assert field.get_attribute("aria-invalid") == "true" and field.input_value() == "50"
    assert "needs its unit" in words(sheet, f"#{field.get_attribute('aria-describedby').split()[0]}")
    sheet.sound()
    field.fill("50 L")
    sheet.press("button", "How much is left")
    assert "h left" in words(sheet, ".said") and "Never roll a cylinder" in sheet.page.content()
    sheet.sound()


PAGES = ("/gas", "/gas/sound", "/weld", "/reckon", "/plan", "/plan/size", "/plan/study", "/plan/settings",
         "/plan/settings?turn1=volts&low1=17&high1=20&turn2=travel&low2=4&high2=7&kind=surface&response=convexity"
         "&centres=3&seed=1&target=&tolerance=0.1", "/next-check")  # fmt: skip


def test_every_page_fits_and_nothing_is_blocked(sheet: Sheet) -> None:
    for address in PAGES:
        opened(sheet, address)
    assert not sheet.complaints
