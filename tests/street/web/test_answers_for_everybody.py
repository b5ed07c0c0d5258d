"""axe-core on pages that show an answer or a refusal, and on the page of a job that runs: at a desk and on a phone."""

import json
from pathlib import Path
from typing import Any

import pytest

from .storybook import fill
from .test_browser import CHROMIUM, Sheet, sheet

assert sheet  # a fixture
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")
GROUPS = "a=N2-01&a=N2-02&b=N2-03&b=N2-04&name_a=bay+A&name_b=bay+B"
WELD = (
    "process=135&material=S275&joint=bead&volts=21.5+V&amps=188+A&travel=34+cm/min&bead_length=140+mm"
    "&thickness_1=8+mm&plate_length=150+mm&plate_width=100+mm&start_temperature=66.2+%C2%B0F"
)
ANSWERED = (
    f"/compare/seen?{GROUPS}&on=convexity",
    "/next-check/ask?usual=N2-01&usual=N2-02&odd=N2-03&odd=N2-04",
    "/plan/scatter",
    "/plan/scatter?welding=mechanised",
    "/plan/size?response=convexity&worth=0.2;0.5&power=0.8&scatter=&welding=",
    f"/heat?{WELD}&points=6,0&beads=1",
    f"/weld?{WELD}",
    "/history?code=N2",
    "/bin",
    "/places?q=nowhere",
)
REFUSED = (
    f"/compare/seen?{GROUPS}&margin=wide",
    "/next-check/ask?prior.stick_out=often",
    "/plan/scatter?welding=somehow",
    "/plan/size?response=convexity&worth=large&power=0.8&scatter=&welding=",
    f"/heat?{WELD}&points=here&beads=1",
    f"/weld?{WELD.replace('21.5+V', 'twenty')}",
    "/gas/contents?share=125&gauge=120",
    "/gas/split?share=much",
    "/gas/mixing?days=soon",
    "/gas/flow?read=15+gallons",
    "/gas/regulator?flow=lots",
    "/reckon/arc_energy?volts=many",
)


@pytest.mark.timeout(600)
def test_answers_and_refusals_can_be_used_by_everybody(sheet: Sheet, bench) -> None:
    fill(bench.folder)
    bench.send("/bin/N2-05")
    for address in ANSWERED:
        assert sheet.page.goto(address).status == 200, address
        sheet.sound()
    for address in REFUSED:
        assert sheet.page.goto(address).status == 422, address
        assert sheet.page.locator("[role=alert]").count() == 1, address
        sheet.sound()
    assert [told for told in sheet.complaints if "422" not in told] == []


def test_the_page_of_a_job_can_be_used_while_it_runs_and_when_it_was_stopped(sheet: Sheet, bench) -> None:
    page = sheet.page
    told = json.dumps({"state": "running", "step": "being read", "picture": "N1-01-B-1-P1"})

    def still_running(route: Any) -> None:  # so that the page stays what it is while it is looked at
        route.fulfill(content_type="text/event-stream", body=f"event: step\ndata: {told}\n\n")

    page.route("**/events", still_running)
    page.goto("/demo")
    sheet.sound()
    sheet.press("button", "Fill this book with the demo")
    assert "/job/" in page.url
    watched = page.url
    page.get_by_text("Look at what is there already").wait_for()
    sheet.sound()
    sheet.press("button", "Stop it")
    assert page.url.endswith("/demo")
    sheet.sound()
    bench.wait(watched.rpartition("/")[2])
    page.goto(watched)
    assert page.get_by_role("heading", level=1).inner_text() == "It was stopped"
    sheet.sound()
    assert sheet.complaints == []


def test_a_photograph_that_is_none_is_refused_with_a_way_on(sheet: Sheet, bench, face: str, tmp_path: Path) -> None:
    job = bench.client.post(f"/api/faces/{face}/pictures", files={"photo": ("x.png", b"no picture")}).json()["id"]
    assert bench.wait(job)["state"] == "refused"
    sheet.page.goto(f"/job/{job}")
    assert sheet.page.get_by_role("link", name="Send another photograph").is_visible()
    sheet.sound()
    assert sheet.complaints == []
