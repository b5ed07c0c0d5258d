"""A form out of a page that was open in another session: nothing is done, and nothing that was typed is lost."""

import html
import re
from typing import Any

import httpx
import pytest

from etchbook.web.routers import ROUTERS
from street.web import storybook

from .test_browser import CHROMIUM, Sheet, sheet

assert sheet  # a fixture

OWN = {"title": "Sheet <4>", "dimension.0": "leg_1", "least.0": "3", "clause.0": "sheet 4"}
TYPED: dict[str, tuple[dict[str, str], str]] = {
    "/trial/new": ({"code": "N7", "question": "does <it> hold?", "joint": "tee", "throat": "4 mm"}, "question"),
    "/trial/N1/bead": ({"set.volts": "18.5 V", "seen": "ran cold"}, "set.volts"),
    "/bead/N1-01/settings": ({"extra_name": "amps", "extra_value": "150 A", "edition": "1"}, "extra_value"),
    "/piece/N1-01-A/place": ({"place": "drawer 4", "remarks": "the left one", "edition": "1"}, "place"),
    "/limits/own": (OWN, "title"),
    "/plan/new": ({"question": "does a longer stick-out raise it?", "arm_a": "15 mm", "arm_b": "22 mm"}, "question"),
    "/plan/study": ({"table": "section,person,value\nA,KM,<1.2>", "worth": "0.3"}, "worth"),
    "/certificates": ({"heat": "<H77>", "share.C": "0.18"}, "heat"),
    "/by": ({"by": "KM"}, "by"),
}


def from_another(bench: Any, path: str, fields: dict[str, str], **how: Any) -> httpx.Response:
    """Sent with the token of a session that is not this browser's any more."""
    with httpx.Client(base_url=bench.address) as other:
        found = re.search(r'name="token" content="(\w+)"', other.get("/").text)
    assert found
    answer: httpx.Response = bench.client.post(path, data={"token": found[1], **fields}, **how)
    return answer


def stands(page: str, name: str) -> str:
    """What stands in a field."""
    found = re.search(rf'name="{re.escape(name)}"[^>]* value="([^"]*)"', page)
    return html.unescape(found[1]) if found else ""


def newest(bench: Any) -> Any:
    return bench.get("/api/changes?limit=1").json()["items"]


@pytest.mark.parametrize("path", TYPED)
def test_what_was_typed_stands_in_the_form_again_and_goes_through_the_second_time(bench, face: str, path: str) -> None:
    fields, shown = TYPED[path]
    before = newest(bench)
    answer = from_another(bench, path, fields)
    assert answer.status_code == 403 and "so nothing was done" in answer.text
    assert newest(bench) == before and not (bench.folder / "limits").exists()
    assert stands(answer.text, shown) == fields[shown]
    assert "<it>" not in answer.text and "<4>" not in answer.text and "<H77>" not in answer.text
    token = stands(answer.text, "token")
    assert token == answer.headers["x-token"] == bench.token()
    sent = bench.client.post(path, data={**fields, "token": token}, follow_redirects=False)
    assert sent.status_code in (200, 303, 422) and "another session" not in sent.text


def test_every_form_of_the_bench_refuses_it_and_none_acts_on_it(bench, face: str) -> None:
    known = {"code": "N1-01", "name": "sheet", "which": "sheet.1"}
    paths = {route.path for router in ROUTERS for route in router.routes if "POST" in route.methods}
    pages = sorted(path for path in paths if not path.startswith("/api/"))
    assert len(pages) > 25
    before = newest(bench)
    for path in pages:
        for headers in ({}, {"hx-request": "true"}):
            where = re.sub(r"\{(\w+)\}", lambda found: known[found[1]], path)
            answer = from_another(bench, where, {"want": "look", "change": "1", "by": "x"}, headers=headers)
            assert answer.status_code == 403, f"{where} {answer.status_code}"
            assert answer.headers["x-token"] == bench.token()
    assert newest(bench) == before


def test_a_page_that_was_drawn_from_an_older_edition_overwrites_nothing_when_sent_again(bench, face: str) -> None:
    fields = {"extra_name": "amps", "extra_value": "150 A", "edition": "1"}
    bench.send("/bead/N1-01/settings", extra_name="travel", extra_value="30 cm/min", edition="1")
    answer = from_another(bench, "/bead/N1-01/settings", fields)
    edition = stands(answer.text, "edition")
    assert edition == "1" and stands(answer.text, "extra_value") == "150 A"
    again = bench.client.post("/bead/N1-01/settings", data={**fields, "edition": edition, "token": bench.token()})
    assert again.status_code == 409 and stands(again.text, "edition") == "2"


def test_a_photograph_that_was_chosen_stays_chosen_and_the_page_hears_the_token(bench, face: str) -> None:
    how = {"files": {"photo": ("w.png", b"x", "image/png")}, "headers": {"hx-request": "true"}}
    answer = from_another(bench, f"/face/{face}/picture", {}, **how)
    assert answer.status_code == 403 and "<html" not in answer.text and "send it once more" in answer.text
    assert answer.headers["x-token"] == bench.token() and bench.get("/api/jobs").json()["items"] == []


def test_marks_of_a_picture_hear_the_token_too(bench) -> None:
    answer = bench.client.post("/api/reading/N1-01-A-1-P1-R1/moved", json={}, headers={"x-token": "old"})
    assert answer.status_code == 403 and answer.headers["x-token"] == bench.token()


def test_a_plan_is_decided_from_the_form_as_it_was_typed(bench) -> None:
    storybook.fill(bench.folder)
    bench.send("/plan/new", question="q", arm_a="a", arm_b="b", kind="two arms", response="convexity", worth="0.5",
               scatter="0.2", sections="2", warm_up="3", power="0.8", code="N8")  # fmt: skip
    code = re.findall(r'name="value\.(\w+)"', bench.get("/plan/N8/decide").text)[0]
    answer = from_another(bench, "/plan/N8/decide", {f"value.{code}": "1.23±0.05"})
    assert answer.status_code == 403 and stands(answer.text, f"value.{code}") == "1.23±0.05"


@pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")
def test_a_person_whose_session_ended_goes_on_where_they_were(sheet: Sheet) -> None:
    page = sheet.page
    page.goto("/trial/new")
    page.fill("[name=question]", "does sheet 4 hold?")
    page.fill("[name=code]", "N9")
    page.context.clear_cookies()
    page.click("main form button.first")
    assert "another session" in page.inner_text("[role=alert]")
    assert page.input_value("[name=question]") == "does sheet 4 hold?"
    sheet.sound()
    page.click("main form button.first")
    assert page.url.endswith("/open/N9")
