"""Every page of a book whose names and notes are as nasty as can be: headers, no blocked script, nothing run."""

import re
import shutil
import struct
import subprocess
import zlib
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from etchbook.web.routers import ROUTERS
from etchbook.wiring import shelf
from street.web.serving import NO_DECODING, Served, make_face, send, serving, token, violations, wait_for

CHROMIUM = Path("/usr/bin/chromium")
NASTY = """<script>alert(1)</script> "q" 'p' #panic[x] $x^2$ @ref ] ) *b* _i_ \\ `r` {{ 7*7 }} {% x %} &amp; // =h"""
NAME = """n<img src=x onerror=alert(1)>"#$@][`.png"""
ANSWERS = {
    "code": "N1", "name": "none", "number": "1", "level": "0", "column": "0", "row": "0", "kind": "html", "other": "",
}  # fmt: skip


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A book with a read and judged picture, in which every text that a person may type is nasty."""
    from etchbook.report import picture_png
    from etchbook.simulate import draw_case, paint

    folder = tmp_path_factory.mktemp("pages")
    section = paint(draw_case("tee", 5), width=640, height=480, seed=5, difficulty="plain")
    shelf.begin(folder / "book", NASTY[:60]).close()
    with serving(folder / "book", before=NO_DECODING) as made, browser(made) as client:
        face = make_face(client)
        texts = dict.fromkeys(("question", "material", "wire", "gas", "procedure", "remarks"), NASTY)
        send(client, "/trial/new", code="N2", joint="tee", **texts)
        client.post("/api/trials/N1/beads", json={"settings": [{"name": "remarks", "value": NASTY, "origin": "seen"},
                                                               {"name": "gas", "value": NASTY}]})  # fmt: skip
        client.post("/api/pieces/N1-01-A/place", json={"place": NASTY[:120], "remarks": NASTY})
        job = client.post(f"/api/faces/{face}/pictures", files={"photo": (NAME, picture_png(section.picture))},
                          data={"px_per_mm": f"{section.truth.px_per_mm:.6f}"}).json()["id"]  # fmt: skip
        assert wait_for(client, job)["state"] == "done"
        reading = f"{face}-P1-R1"
        client.post(f"/api/readings/{reading}/judgements", json={"against": "iso-5817:B", "edition": 1})
        ANSWERS["job"] = job
        yield made


def browser(served: Served) -> httpx.Client:
    return httpx.Client(base_url=served.address, follow_redirects=True, timeout=90)


def addresses() -> list[str]:
    """Every page and verb that is only looked at, with codes of this book filled in."""
    made = []
    for route in (route for router in ROUTERS for route in router.routes):
        path = getattr(route, "path", "")
        if "GET" not in getattr(route, "methods", ()) or "/events" in path:
            continue
        for code in _codes(path):
            filled = path.replace("{code}", code).replace("{other}", "N1-01-A-1-P1")
            made.append(re.sub(r"\{(\w+)\}", lambda found: ANSWERS.get(found[1], "none"), filled))
    return list(dict.fromkeys(made))


def _codes(path: str) -> list[str]:
    if "{code}" not in path:
        return [""]
    if "reading" in path or "indication" in path:
        return ["N1-01-A-1-P1-R1"]
    if "/picture/" in path:
        return ["N1-01-A-1-P1"]
    if "/face/" in path:
        return ["N1-01-A-1"]
    if "bead" in path and "trial" not in path:
        return ["N1-01"]
    return ["N1", "N2", "N1-01", "N1-02", "N1-01-0", "N1-01-A", "N1-01-A-1", "N1-01-A-1-P1", "N1-01-A-1-P1-R1"]


def test_every_answer_carries_the_headers_and_none_is_a_fault(served: Served) -> None:
    seen = 0
    with browser(served) as client:
        for path in [*addresses(), "/static/bench.css", "/nothing", "/api/nothing", "/api/openapi.json"]:
            answer = client.get(path)
            assert answer.status_code < 500, f"{path}: {answer.text[:300]}"
            policy = answer.headers["content-security-policy"]
            assert "default-src 'none'" in policy and "unsafe-eval" not in policy, path
            assert "frame-ancestors 'none'" in policy or "frame-ancestors 'self'; sandbox" in policy, path
            assert "script-src 'self'" in policy or "script-src" not in policy, path
            if "unsafe-inline" in policy:  # a report or a drawing with styles of its own, which may run nothing
                assert policy.endswith("sandbox"), path
            assert answer.headers["x-content-type-options"] == "nosniff", path
            assert answer.headers["referrer-policy"] == "no-referrer", path
            assert answer.headers["cross-origin-opener-policy"] == "same-origin", path
            assert "server" not in answer.headers, path
            seen += answer.status_code == 200
    assert seen > 40


def test_nothing_that_a_person_typed_becomes_part_of_a_page(served: Served) -> None:
    shown = 0
    with browser(served) as client:
        for path in addresses():
            answer = client.get(path)
            if "html" not in answer.headers["content-type"]:
                continue
            text = answer.text
            assert "<script>alert" not in text and "<img src=x" not in text and "onerror=alert(1)>" not in text, path
            assert "49" not in re.findall(r"\{\{ (\d+) \}\}", text)
            shown += "&lt;script&gt;alert(1)" in text
    assert shown > 8


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed here")
@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("/reading/N1-01-A-1-P1-R1/report.pdf?against=iso-5817:B", ["<img src=x", "#$@]["]),
        ("/labels/N1-01-A/sheet.pdf", []),
    ],
)
def test_a_pdf_shows_the_letters_that_were_typed(served: Served, path: str, words: list[str], tmp_path: Path) -> None:
    with browser(served) as client:
        answer = client.get(path)
    assert answer.status_code == 200 and answer.content.startswith(b"%PDF"), answer.text[:300]
    (tmp_path / "a.pdf").write_bytes(answer.content)
    made = subprocess.run(
        ["pdftotext", "-layout", str(tmp_path / "a.pdf"), "-"], capture_output=True, text=True, check=True
    )
    for one in words:
        assert one in made.stdout, made.stdout[:3000]
    assert b"/JavaScript" not in answer.content and b"/Launch" not in answer.content


def test_texts_for_the_typesetter_are_data_and_no_markup() -> None:
    import etchbook.report

    for sheet in Path(etchbook.report.__file__).parent.glob("*.typ"):
        assert not re.search(r"\beval\s*\(", sheet.read_text(encoding="utf-8")), sheet.name


@pytest.mark.skipif(not CHROMIUM.exists(), reason="no browser is installed here")
@pytest.mark.parametrize("size", [(1280, 800), (390, 844)], ids=["desk", "phone"])
def test_the_browser_blocks_nothing_runs_nothing_of_theirs_and_can_be_used_by_everybody(
    served: Served, size: tuple[int, int]
) -> None:
    sync_api = pytest.importorskip("playwright.sync_api")
    complaints: list[str] = []
    looked = 0
    with sync_api.sync_playwright() as play:
        opened = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        scheme = "light" if size[0] > 1000 else "dark"
        page = opened.new_page(viewport={"width": size[0], "height": size[1]}, base_url=served.address,
                               color_scheme=scheme)  # fmt: skip
        page.on("console", lambda told: complaints.append(f"{page.url}: {told.text}") if told.type == "error" else None)
        page.on("pageerror", lambda error: complaints.append(f"{page.url}: {error}"))
        page.on("dialog", lambda dialog: complaints.append(f"{page.url}: a dialog {dialog.message}"))
        with browser(served) as client:
            paths = [path for path in addresses() if _is_page(client, path)]
        for path in paths:
            page.goto(path, wait_until="load")
            complaints += violations(page)
            looked += 1
        opened.close()
    assert complaints == []
    assert looked > 15


def _is_page(client: httpx.Client, path: str) -> bool:
    answer = client.get(path)
    return answer.status_code == 200 and "html" in answer.headers["content-type"] and "report.html" not in path


def test_photographs_are_never_opened_where_pages_are_made(served: Served) -> None:
    """The bench of this page cannot open one itself (see the fixture), and yet shows all that is drawn on one."""
    reading = "N1-01-A-1-P1-R1"
    with browser(served) as client:
        for path in (f"/reading/{reading}/overlay.png", "/picture/N1-01-A-1-P1/preview.jpg",
                     "/picture/N1-01-A-1-P1/tile/0/0/0.jpg", f"/reading/{reading}/report.pdf"):  # fmt: skip
            answer = client.get(path)
            assert answer.status_code == 200 and len(answer.content) > 500, f"{path}: {answer.text[:200]}"
        told = {"x-token": token(client)}
        for quick in (True, False):
            moved = client.post(f"/api/reading/{reading}/moved", json={"quick": quick}, headers=told)
            assert moved.status_code == 200 and moved.json()["rows"]
        again = client.post("/api/pictures/N1-01-A-1-P1/readings", json={}).json()
        assert wait_for(client, again["id"])["state"] == "done"


def test_a_picture_of_too_many_pixels_is_refused_unopened_and_not_kept(served: Served) -> None:
    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    size = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 2, 0, 0, 0)
    pixels = zlib.compress(bytes(90_001) * 2000, 9)  # would be 2.7 GB if anybody unfolded all of it
    bomb = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", size) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")
    with browser(served) as client:
        before = len(client.get("/api/things?kind=picture").json()["items"])
        job = client.post("/api/faces/N1-01-A-1/pictures", files={"photo": ("b.png", bomb)}).json()["id"]
        told = wait_for(client, job)
        assert told["state"] == "refused" and "megapixels" in told["step"], told
        assert len(client.get("/api/things?kind=picture").json()["items"]) == before
    assert list((served.folder / "bench" / "uploads").iterdir()) == []


def test_a_token_is_no_other_than_the_sessions(served: Served) -> None:
    with browser(served) as first, browser(served) as second:
        assert token(first) == token(first, "/trial/new") != token(second)
