"""The picture page in a real browser, with a mouse and with a finger: drag, nudge, pin, scale, wipe, undo, save."""

import io
import re
from collections.abc import Iterator
from pathlib import Path

import httpx
import numpy as np
import pytest
from PIL import Image

from etchbook.simulate import PaintedSection
from etchbook.wiring import shelf
from street.web import picturing
from street.web.picturing import CHROMIUM, Sheet, browsing, in_closer, three_pictures
from street.web.serving import Served, make_face, serving, token

expect = pytest.importorskip("playwright.sync_api").expect
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")
CODE = "N1-01-A-1-P1-R1"
AXE = Path(__file__).with_name("vendor") / "axe.min.js"


@pytest.fixture(scope="module")
def truth() -> PaintedSection:
    return picturing.section()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("picture") / "book"
    shelf.begin(folder, "Bay B").close()
    with serving(folder) as made:
        with httpx.Client(base_url=made.address, follow_redirects=True, timeout=60) as client:
            face = make_face(client)
        three_pictures(folder, face)
        yield made


@pytest.fixture(params=["desk", "phone"])
def sheet(request: pytest.FixtureRequest, served: Served) -> Iterator[Sheet]:
    with browsing(served.address, request.param) as made:
        yield made.open(CODE)
        assert made.troubles == []


def test_the_picture_has_nearly_the_whole_screen(sheet: Sheet) -> None:
    stage, screen = sheet.page.locator("#stage").bounding_box(), sheet.page.viewport_size
    assert stage["height"] > 0.84 * screen["height"]
    assert stage["width"] > (0.98 if sheet.touch else 0.65) * screen["width"]
    assert sheet.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert sheet.page.locator("h1").count() == 1
    assert sheet.page.locator("[data-do=save]").is_visible()


def test_a_dragged_toe_gives_numbers_before_it_is_let_go(sheet: Sheet, truth: PaintedSection) -> None:
    """Dragged outwards along its plate the leg grows by what the toe moved; the loupe stays clear of the finger."""
    before = sheet.number("leg_1")
    begun = sheet.value("leg_1") if not sheet.touch else ""
    toe, root = (truth.truth.landmarks[name] for name in ("toe_1", "joint_root"))
    x, y = sheet.middle("[data-id='at:toe_1'] .dot")
    way = (toe - root) / np.hypot(*(toe - root))
    sheet.asked.clear()
    sheet.most_at_once = 0
    sheet.down((x, y))
    for step in range(1, 7):
        at = (x - 4 * step * way[0], y - 4 * step * way[1])
        sheet.move(at)
        sheet.page.wait_for_timeout(30)
    expect(sheet.page.locator("[data-dim=leg_1] .was")).not_to_be_empty()
    rim = sheet.page.locator(".loupe-rim").bounding_box()
    stage = sheet.page.locator("#stage").bounding_box()
    loupe = np.array([rim["x"] + rim["width"] / 2, rim["y"] + rim["height"] / 2])
    assert np.hypot(*(loupe - at)) > rim["width"] / 2 + 20, "the finger would cover it"
    assert stage["y"] <= rim["y"] and rim["y"] + rim["height"] <= stage["y"] + stage["height"] + 1
    light = np.asarray(Image.open(io.BytesIO(sheet.page.screenshot(clip=rim, scale="css"))).convert("L"), float)
    y, x = np.mgrid[: light.shape[0], : light.shape[1]]
    inside = light[np.hypot(x - light.shape[1] / 2, y - light.shape[0] / 2) < 0.4 * light.shape[0]]
    assert np.std(inside) > 10 and (inside > 200).mean() > 0.004, "steel and lines are seen in it"
    sheet.up()
    sheet.settled()
    assert not sheet.page.locator(".loupe-rim").is_visible()
    k = sheet.page.evaluate("document.querySelector('#world').getScreenCTM().a")
    moved = 24 / k / truth.truth.px_per_mm
    assert before - sheet.number("leg_1") == pytest.approx(moved, abs=0.04 + 0.1 * moved)
    assert sheet.most_at_once == 1, "one question is under way at a time"
    assert "was" in sheet.page.inner_text("#said")
    was = sheet.page.locator("[data-dim=leg_1] .was").text_content()
    assert begun in was and f"{before:.4g}"[:3] in was


def test_keys_nudge_hide_undo_and_redo(served: Served) -> None:
    with browsing(served.address, "desk") as sheet:
        page = sheet.open(CODE).page
        toe = page.locator("[data-id='at:toe_1']")
        start = float(toe.get_attribute("data-x"))
        begun = sheet.value("leg_1")
        toe.focus()
        page.keyboard.press("ArrowRight")
        sheet.settled()
        assert float(toe.get_attribute("data-x")) == pytest.approx(start + 1, abs=0.06)
        page.keyboard.press("Shift+ArrowRight")
        sheet.settled()
        assert float(toe.get_attribute("data-x")) == pytest.approx(start + 11, abs=0.06)
        assert "it was " + begun in page.locator("[data-dim=leg_1] .was").inner_text()
        changed = page.locator("#dims .changed").count()
        assert changed >= 3 and f"{changed} of " in page.inner_text("#count")
        assert page.evaluate("document.activeElement.getAttribute('data-id')") == "at:toe_1"
        page.keyboard.press("h")
        assert not page.locator("#lines path.over").first.is_visible()
        page.keyboard.press("h")
        assert page.locator("#lines path.over").first.is_visible()
        for _ in range(2):
            page.keyboard.press("Control+z")
        sheet.settled()
        assert sheet.value("leg_1") == begun and page.locator("#dims .changed").count() == 0
        assert page.get_by_role("button", name="Undo").is_disabled()
        page.keyboard.press("Control+y")
        page.keyboard.press("Control+Shift+z")
        sheet.settled()
        assert float(toe.get_attribute("data-x")) == pytest.approx(start + 11, abs=0.06)
        sheet.press("Back to the start")
        sheet.settled()
        assert sheet.value("leg_1") == begun
        page.keyboard.press("Control+z")
        sheet.settled()
        assert sheet.value("leg_1") != begun, "going back to the start can itself be undone"


def test_a_boundary_is_found_again_through_taps(sheet: Sheet) -> None:
    line = sheet.page.evaluate("document.querySelector('[data-line=fusion_line_1]').getAttribute('d')")
    points = np.array([part.split() for part in line.removeprefix("M").split("L")], float)
    if sheet.touch:
        sheet.press("Numbers")
    sheet.page.locator("#pin").select_option("fusion_line_1")
    if sheet.touch:
        sheet.press("Numbers")
    tapped = [points[len(points) // 3] + [6.0, 6.0], points[2 * len(points) // 3] + [6.0, 6.0]]
    for at in tapped:
        sheet.tap(*sheet.place(at))
        sheet.settled()
    assert sheet.page.locator("[data-id^='pin:fusion_line_1']").count() == 2
    line = sheet.page.evaluate("document.querySelector('[data-line=fusion_line_1]').getAttribute('d')")
    now = np.array([part.split() for part in line.removeprefix("M").split("L")], float)
    for at in tapped:
        assert np.hypot(*(now - at).T).min() < 6, "the line goes through the tap"
    sheet.page.locator("[data-id='pin:fusion_line_1:1']").focus()
    sheet.press("Remove this mark")
    sheet.settled()
    assert sheet.page.locator("[data-id^='pin:fusion_line_1']").count() == 1


def test_two_fingers_or_the_wheel_zoom_about_their_place(sheet: Sheet) -> None:
    stage = sheet.page.locator("#stage").bounding_box()
    at = np.array([stage["x"] + 0.55 * stage["width"], stage["y"] + 0.45 * stage["height"]])
    view = "(() => { const m = document.querySelector('#world').getScreenCTM(); return [m.a, m.e, m.f]; })()"
    k, x, y = sheet.page.evaluate(view)
    under = (at - [x, y]) / k
    if sheet.touch:
        sheet.down((at[0] - 40, at[1]), (at[0] + 40, at[1]))
        for reach in (50, 60, 80):
            sheet.move((at[0] - reach, at[1]), (at[0] + reach, at[1]))
        sheet.up()
    else:
        sheet.page.mouse.move(*at)
        sheet.page.mouse.wheel(0, -400)
    sheet.page.wait_for_timeout(200)
    k2, x2, y2 = sheet.page.evaluate(view)
    assert k2 / k == pytest.approx(2.0 if sheet.touch else np.exp(0.6), rel=0.03)
    assert np.hypot(*((at - [x2, y2]) / k2 - under)) * k2 < 2
    assert sheet.page.locator("[data-do=undo]").is_disabled(), "looking closer marks nothing"


def test_the_scale_is_set_in_three_ways(sheet: Sheet, truth: PaintedSection) -> None:
    page = sheet.page
    if sheet.touch:
        sheet.press("Numbers")
    page.get_by_text("Set it another way").click()
    words = page.locator("#scale-words")
    sheet.press("Use the graduations")
    expect(words).to_contain_text("rule", timeout=60_000)
    assert float(words.text_content().split()[0]) == pytest.approx(truth.truth.px_per_mm, rel=0.01)
    page.get_by_label("Its thickness [mm]").fill("8,0")
    sheet.press("Use this thickness")
    expect(words).to_contain_text("thickness", timeout=60_000)
    assert sheet.number("thickness_1") == pytest.approx(8.0, abs=0.01)
    page.get_by_label("Length between two taps [mm]").fill("10")
    sheet.press("The whole")
    sheet.press("Tap two points on the rule")
    for at in ((300.0, 300.0), (620.0, 300.0)):
        sheet.tap(*sheet.place(at))
    expect(words).to_contain_text("two points", timeout=60_000)
    assert float(words.text_content().split()[0]) == pytest.approx(32.0, abs=0.15)
    assert page.locator("#lines .shown .end").count() == 2, "the taps stay to be seen"


def test_another_picture_of_the_face_lies_under_it(sheet: Sheet, truth: PaintedSection) -> None:
    page = sheet.page
    if sheet.touch:
        sheet.press("Numbers")
    sheet.press("Lay N1-01-A-1-P2 under it")
    page.wait_for_selector("[data-other=N1-01-A-1-P2][aria-pressed=true]", timeout=60_000)
    assert "patches agree" in page.locator("#register-words").text_content()
    shown = "Number(document.querySelector('#uncovered rect').getAttribute('width')) > 0"
    assert page.evaluate(shown)
    sheet.press("Other picture (B)")
    assert not page.evaluate(shown)
    page.locator("#stage").focus()
    page.keyboard.press("b")
    assert page.evaluate(shown)
    x, y = sheet.middle(".wipe-grip")
    stage = page.locator("#stage").bounding_box()
    half = stage["x"] + stage["width"] / 2
    sheet.down((x, y))
    sheet.move(((x + half) / 2, y))
    sheet.move((half, y))
    sheet.up()
    assert int(page.locator("#share").input_value()) == pytest.approx(50, abs=6)
    assert any("/picture/N1-01-A-1-P2/tile/" in one for one in sheet.asked)
    assert page.locator("[data-do=undo]").is_disabled(), "looking at another picture marks nothing"


def test_a_picture_of_something_else_is_refused_in_words(served: Served) -> None:
    with browsing(served.address, "desk") as sheet:
        page = sheet.open(CODE).page
        sheet.press("Lay N1-01-A-1-P3 under it")
        page.wait_for_selector("#said.trouble", timeout=60_000)
        assert "cannot be laid on N1-01-A-1-P1 with trust" in page.inner_text("#said")
        assert page.locator("[aria-pressed=true]").count() == 0 and page.locator("#uncover").is_hidden()


def test_the_register_is_where_the_picture_was_moved_to(served: Served, truth: PaintedSection) -> None:
    with httpx.Client(base_url=served.address, timeout=60) as client:
        head = {"x-token": token(client, f"/reading/{CODE}/picture")}
        told = client.get(f"/api/reading/{CODE}/under/N1-01-A-1-P2", headers=head).json()
        other = client.get(f"/api/reading/{CODE}/under/N1-01-A-1-P3", headers=head)
    points = np.array([truth.truth.landmarks[name] for name in ("toe_1", "toe_2", "joint_root")])
    for matrix, source, target in (("back", points, in_closer(points)), ("onto", in_closer(points), points)):
        there = np.column_stack([source, np.ones(3)]) @ np.array(told[matrix]).reshape(3, 3).T
        assert np.hypot(*(there[:, :2] / there[:, 2:] - target).T).max() < 1.0, matrix
    assert other.status_code == 422 and "trust" in other.json()["error"]


def test_what_is_doubted_is_marked_where_it_lies(served: Served) -> None:
    """The bench's answer is given a doubt of ours, so that the page can be held to showing it in its place."""
    with browsing(served.address, "desk") as sheet:
        page = sheet.page

        def doubtful(route) -> None:  # type: ignore[no-untyped-def]
            answer = route.fetch()
            told = answer.json()
            for one in told["outline"]["boundaries"]:
                one["doubt"], one["unclear"] = "", []
            line = next(one for one in told["outline"]["boundaries"] if one["name"] == "haz_edge_1")
            line["doubt"], line["unclear"] = "does not stand out", [line["points"][10:40]]
            told["doubts"] = [{"part": "HAZ edge in member 1", "reason": "it is faint", "remedy": "look there",
                               "box": [100.0, 100.0, 300.0, 250.0]}]  # fmt: skip
            route.fulfill(response=answer, json=told)

        page.route("**/moved", doubtful)
        sheet.open(CODE)
        assert page.get_by_role("heading", name="Look here first").is_visible()
        assert page.locator("#lines path.unclear").count() == 1
        assert page.locator("#lines text", has_text="? HAZ edge 1").count() == 1
        assert page.locator("#ticked").is_visible()
        sheet.press("Look there")
        corners = [sheet.place((100, 100)), sheet.place((300, 250))]
        stage = page.locator("#stage").bounding_box()
        for x, y in corners:
            assert stage["x"] < x < stage["x"] + stage["width"] and stage["y"] < y < stage["y"] + stage["height"]
        assert (
            corners[1][0] - corners[0][0] > 0.5 * stage["width"]
            or corners[1][1] - corners[0][1] > 0.5 * stage["height"]
        )


@pytest.mark.parametrize("light", ["light", "dark"])
def test_nobody_is_kept_out(sheet: Sheet, light: str) -> None:
    """axe-core finds nothing, every field has a label, and every action is a word."""
    page = sheet.page
    page.emulate_media(color_scheme=light)
    if sheet.touch:
        sheet.press("Numbers")
    page.locator("[data-id='at:toe_2']").focus()
    page.keyboard.press("Shift+ArrowUp")
    sheet.settled()
    page.evaluate(f"window.axe || (() => {{{AXE.read_text(encoding='utf-8')}}})()")
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found] == []
    unnamed = "[...document.querySelectorAll('input:not([type=hidden]),select')].filter(e => !e.labels.length).length"
    assert page.evaluate(unnamed) == 0
    for one in page.locator("button").all():
        assert re.search(r"[A-Za-z]{3}", one.text_content()), "every action is a word"


def test_marks_are_saved_and_a_late_save_is_shown_what_changed(served: Served) -> None:
    with browsing(served.address, "desk") as sheet:
        page = sheet.open(CODE).page
        page.locator("[data-id='at:toe_2']").focus()
        page.keyboard.press("Shift+ArrowDown")
        sheet.settled()
        with page.expect_navigation(timeout=90_000):
            sheet.press("Save as edition 2")
        assert "edition 2" in page.inner_text("main")
        assert sheet.troubles == []
    with httpx.Client(base_url=served.address, timeout=60) as client:
        head = {"x-token": token(client, f"/reading/{CODE}/picture")}
        late = client.post(
            f"/api/reading/{CODE}/save", headers=head, json={"marks": {"toe_1": [10.0, 10.0]}, "edition": 1}
        )
        assert late.status_code == 409 and "edition 2" in late.json()["error"]
        gone = client.post(f"/api/reading/{CODE}/moved", headers=head, json={"marks": {"toe_9": [1.0, 1.0]}})
        assert gone.status_code == 422 and "toe_9" in gone.json()["error"]
        assert client.post(f"/api/reading/{CODE}/moved", json={"marks": {}}).status_code == 403
