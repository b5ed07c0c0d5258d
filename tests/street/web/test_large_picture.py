"""A picture of 48 million pixels on a phone: a little one painted and enlarged, so that its pixels cost nothing."""

import io
from collections.abc import Iterator
from dataclasses import replace

import httpx
import pytest
from PIL import Image

from etchbook.joint import Joint
from etchbook.picture import Scale
from etchbook.report import picture_png
from etchbook.section import read_section
from etchbook.trials.records import PictureEntry
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.readings import keep_reading
from etchbook.wiring import shelf
from etchbook.wiring.press import ReportPress
from street.web.picturing import CHROMIUM, browsing, put_in, section
from street.web.serving import Served, make_face, serving

pytest.importorskip("playwright.sync_api")
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")
TIMES = 8.4
CODE = "N1-01-A-1-P1-R1"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Its reading is that of the little one, whose numbers are the same; the page opens the large one itself."""
    folder = tmp_path_factory.mktemp("large") / "book"
    shelf.begin(folder, "Bay B").close()
    painted = section()
    little = Image.open(io.BytesIO(picture_png(painted.picture))).convert("RGB")
    large = io.BytesIO()
    little.resize((round(little.width * TIMES), round(little.height * TIMES))).save(large, "JPEG", quality=80)
    with serving(folder) as made:
        with httpx.Client(base_url=made.address, follow_redirects=True, timeout=60) as client:
            code = put_in(folder, make_face(client), large.getvalue(), "large.jpg", keep_only=True)
        store = shelf.meant(str(folder))
        entry, _ = held(store, code, PictureEntry)
        assert entry.width * entry.height > 48_000_000
        scale = Scale(px_per_mm=painted.truth.px_per_mm, u=0.1, origin="given")
        reading = read_section(painted.picture, Joint(family="tee"), scale)
        facts = replace(reading.picture, width=entry.width, height=entry.height, sha256=entry.sha256)
        whole = replace(reading, picture=facts, scale=replace(scale, px_per_mm=TIMES * scale.px_per_mm, u=0.84))
        keep_reading(store, shelf.hand("tester"), code, whole, ReportPress().page("json", whole, None, None))
        store.close()
        yield made


def test_a_phone_loads_only_tiles_and_drags(served: Served) -> None:
    with browsing(served.address, "phone") as sheet:
        page = sheet.page
        weights: list[int] = []
        page.on("response", lambda told: weights.append(len(told.body())) if "/tile/" in told.url and told.ok else None)
        sheet.open(CODE, wait=False)
        page.wait_for_selector("#stage image[href*='/tile/0/0/0']", state="attached", timeout=90_000)
        page.wait_for_selector("[data-ready=yes]", timeout=180_000)
        page.wait_for_load_state("networkidle")
        pictures = [one for one in sheet.asked if "/picture/N1" in one]
        assert pictures and all("/tile/" in one for one in pictures), "the whole photograph is never sent"
        assert len(set(pictures)) == len(pictures) <= 24
        assert sum(weights) < 4_000_000, f"{sum(weights)} bytes for the first look"
        before = page.locator("[data-dim=leg_2] .value").text_content()
        x, y = sheet.middle("[data-id='at:toe_2'] .dot")
        sheet.down((x, y))
        for step in (5, 10, 15, 20):
            sheet.move((x, y - step))
            page.wait_for_timeout(40)
        sheet.up()
        sheet.settled()
        assert page.locator("[data-dim=leg_2] .value").text_content() != before
        for _ in range(7):
            sheet.page.locator("[data-do=in]").tap()
        page.wait_for_load_state("networkidle")
        finest = [one for one in sheet.asked if "/tile/4/" in one]
        assert 1 <= len(finest) <= 48, "of 192, only what came in sight comes in its finest pixels"
        assert sheet.troubles == []


def test_tiles_join_without_a_gap_and_end_where_the_picture_ends(served: Served) -> None:
    """8064 x 6048 px: 16 x 12 tiles of 512 at the finest level, the last ones 384 wide and 416 high."""
    with httpx.Client(base_url=served.address, timeout=120) as client:

        def tile(place: str) -> httpx.Response:
            return client.get(f"/picture/N1-01-A-1-P1/tile/{place}.jpg")

        assert Image.open(io.BytesIO(tile("0/0/0").content)).size == (504, 378)
        assert Image.open(io.BytesIO(tile("4/0/0").content)).size == (512, 512)
        assert Image.open(io.BytesIO(tile("4/15/11").content)).size == (384, 416)
        for beyond in ("4/16/0", "4/0/12", "5/0/0", "0/1/0"):
            assert tile(beyond).status_code == 404
        assert "immutable" in tile("0/0/0").headers["cache-control"]
