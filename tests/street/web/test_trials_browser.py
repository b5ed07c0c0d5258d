"""Trials and arithmetic walked through in a real browser, on a desk and on a phone."""

import json
from pathlib import Path

import pytest

from .storybook import fill
from .test_browser import CHROMIUM, fits, go, sheet

assert sheet  # a fixture
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")


def opened(sheet, address: str) -> None:
    sheet.goto(address)
    fits(sheet)


def test_from_two_groups_to_the_cause_and_to_the_trial_that_proves_it(sheet, bench, tmp_path: Path) -> None:
    fill(bench.folder)
    opened(sheet, "/compare")
    for code, side in (("N2-01", "first"), ("N2-02", "first"), ("N2-03", "second"), ("N2-04", "second")):
        sheet.get_by_role("group", name=code, exact=True).get_by_label(side).check()
    sheet.get_by_label("First group is called").fill("bay A")
    sheet.get_by_label("Second group is called").fill("first")
    go(sheet, "button", "Compare them")
    assert "A difference is shown" in sheet.locator(".said").inner_text()
    assert sheet.locator("figure.drawing svg").count() == 4
    fits(sheet)
    go(sheet, "link", "Find the cause")
    fits(sheet)
    assert "stick-out" in sheet.locator(".said").inner_text()
    opened(sheet, "/next-check/ask")
    question = sheet.locator(".question h2").inner_text()
    go(sheet, "button", "No")
    assert sheet.locator(".question h2").inner_text() != question
    fits(sheet)
    go(sheet, "link", "Take it back")
    assert sheet.locator(".question h2").inner_text() == question
    planned(sheet, tmp_path)
    assert not sheet.complaints


def planned(sheet, tmp_path: Path) -> None:
    opened(sheet, "/plan/new")
    sheet.get_by_label("What is the trial to answer?").fill("Does a longer stick-out raise the bead?")
    sheet.get_by_label("One thing").fill("15 mm")
    sheet.get_by_label("The other thing").fill("22 mm")
    sheet.get_by_role("textbox", name="Smallest difference worth knowing").fill("0.3")
    sheet.get_by_label("Welded").select_option("mechanised")
    go(sheet, "button", "Plan it and lock the rule")
    fits(sheet)
    for _ in range(2):  # a paper may be taken out again
        with sheet.expect_download() as download:
            sheet.get_by_role("button", name="Take out the sealed key").click()
    download.value.save_as(tmp_path / "key.json")
    key = json.loads((tmp_path / "key.json").read_text(encoding="utf-8"))["codes"]
    go(sheet, "link", "Decide it by its rule")
    fits(sheet)
    for code, held in key.items():
        sheet.get_by_label(f"Result of {code}").fill("1.5±0.03" if held["arm"] == "22 mm" else "1.0±0.03")
    go(sheet, "button", "Decide, once")
    assert "Effect by the locked rule: difference +0.50" in sheet.locator(".said").inner_text()
    fits(sheet)


def test_a_form_says_beside_the_field_what_is_wrong_and_keeps_what_was_typed(sheet) -> None:
    opened(sheet, "/gas/contents")
    sheet.get_by_role("textbox", name="Its share").fill("18")
    sheet.get_by_role("textbox", name="Water capacity").fill("50")
    sheet.get_by_role("textbox", name="Cylinder gauge shows").fill("120 bar")
    sheet.get_by_role("textbox", name="Temperature of the cylinder").fill("8 °C")
    go(sheet, "button", "How much is left")
    field = sheet.get_by_role("textbox", name="Water capacity")
    assert field.get_attribute("aria-invalid") == "true" and field.input_value() == "50"
    told = sheet.locator(f"#{field.get_attribute('aria-describedby').split()[0]}").inner_text()
    assert "needs its unit" in told
    fits(sheet)
    field.fill("50 L")
    go(sheet, "button", "How much is left")
    assert "h left" in sheet.locator(".said").inner_text() and "Never roll a cylinder" in sheet.content()
    fits(sheet)


@pytest.mark.parametrize("address", ["/gas", "/gas/split", "/weld", "/reckon", "/plan", "/plan/size", "/plan/study",
                                     "/plan/settings", "/next-check"])  # fmt: skip
def test_every_page_fits_and_nothing_is_blocked(sheet, address: str) -> None:
    opened(sheet, address)
    assert not sheet.complaints
