"""The picture page in a real browser: a point is moved by pointer and by keyboard, undone, and saved."""

from pathlib import Path

import pytest

sync_api = pytest.importorskip("playwright.sync_api")
CHROMIUM = Path("/usr/bin/chromium")
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")


def test_a_toe_is_dragged_nudged_undone_and_saved(bench, face: str, painted) -> None:
    name = bench.client.post(
        f"/face/{face}/picture",
        data={"token": bench.token(), "scale_from": "", "px_per_mm": "40"},
        files={"photo": ("weld.png", painted[1], "image/png")},
    ).url.path.rpartition("/")[2]
    assert bench.wait(name)["state"] == "done"
    with sync_api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": 1280, "height": 800}, base_url=bench.address)
        troubles: list[str] = []
        page.on("console", lambda told: troubles.append(told.text) if told.type == "error" else None)
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.goto(f"/reading/{face}-P1-R1/picture")
        page.wait_for_selector("[data-ready=yes]", timeout=40_000)
        page.wait_for_timeout(800)
        leg = page.locator("[data-dim=leg_1] .value")
        begun = leg.inner_text()
        toe = page.locator("[data-id='at:toe_1']")
        before = float(toe.get_attribute("data-x"))
        box = toe.locator(".dot").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 20, y, steps=4)
        page.mouse.move(x + 40, y, steps=4)
        page.mouse.up()
        page.wait_for_function("was => document.querySelector('[data-dim=leg_1] .value').innerText !== was", arg=begun)
        assert float(toe.get_attribute("data-x")) > before + 5
        page.wait_for_timeout(700)
        dragged = float(toe.get_attribute("data-x"))
        toe.focus()
        page.keyboard.press("Shift+ArrowRight")
        page.wait_for_timeout(900)
        assert float(toe.get_attribute("data-x")) == pytest.approx(dragged + 10, abs=0.11)
        assert "it was " + begun in page.locator("[data-dim=leg_1] .was").inner_text()
        page.get_by_role("button", name="Back to the start").click()
        page.wait_for_function("was => document.querySelector('[data-dim=leg_1] .value').innerText === was", arg=begun)
        page.keyboard.press("Control+z")
        page.wait_for_function("was => document.querySelector('[data-dim=leg_1] .value').innerText !== was", arg=begun)
        with page.expect_navigation(timeout=60_000):
            page.get_by_role("button", name="Save as edition 2").click()
        assert "edition 2" in page.inner_text("main")
        assert troubles == []
        browser.close()
    late = bench.client.post(f"/api/reading/{face}-P1-R1/save", headers={"x-token": bench.token()},
                             json={"marks": {"toe_1": [10.0, 10.0]}, "edition": 1})  # fmt: skip
    assert late.status_code == 409
    assert "edition 2" in late.json()["error"]
