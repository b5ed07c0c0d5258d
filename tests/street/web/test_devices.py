"""Phones in the shop's network: let in with a code that is good once, listed, and sent away."""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
import zxingcpp

from etchbook.usecases import RefusedError
from etchbook.web.safety.pairing import GOOD_S, MOST_WRONG, WINDOW_S, Pairing, TooOftenError, WrongCodeError
from etchbook.wiring import shelf
from street.web.serving import Served, send, serving, token, violations

PHONE = "127.0.0.2"  # on Linux every 127.x.y.z is an address of this machine: here it stands for the one in the network
pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a second address of this machine")


@pytest.fixture
def lan(tmp_path: Path) -> Iterator[Served]:
    """A bench that phones may come to."""
    shelf.begin(tmp_path / "book", "Bay B").close()
    with serving(tmp_path / "book", "--lan-address", PHONE) as served:
        served.until("the code is good once")
        yield served


@pytest.fixture
def shop(lan: Served) -> Iterator[httpx.Client]:
    """The browser of the shop's PC."""
    with httpx.Client(base_url=lan.address, follow_redirects=True, timeout=30) as client:
        yield client


def phone(lan: Served) -> httpx.Client:
    """A phone's browser that was not let in yet."""
    return httpx.Client(base_url=lan.address.replace("127.0.0.1", PHONE), follow_redirects=True, timeout=30)


def code_of(shop: httpx.Client) -> str:
    found = re.search(r'class="pair-code">([A-Z2-9]{4}-[A-Z2-9]{4})<', shop.get("/devices").text)
    assert found
    return found[1]


def pair(client: httpx.Client, code: str, name: str = "phone of bay B") -> httpx.Response:
    return client.post("/pair", data={"token": token(client, "/pair"), "code": code, "name": name})


def test_a_stranger_sees_nothing_but_the_page_that_lets_it_in(lan: Served, shop: httpx.Client) -> None:
    shop.post("/api/trials", json={"code": "N1", "question": "how deep?"})
    with phone(lan) as stranger:
        for path in ("/", "/open/N1", "/find?q=deep", "/devices", "/nothing"):
            answer = stranger.get(path)
            assert answer.url.path == "/pair" and "how deep" not in answer.text and "Bay B" not in answer.text
        for path in ("/api/things", "/api/openapi.json", "/api/find?q=deep"):
            assert stranger.get(path).status_code == 401
        assert stranger.post("/api/trials", json={"code": "N2"}).status_code == 401
        assert stranger.post("/undo", data={"change": "1"}).status_code == 401
        big = {"code": "x" * 30_000, "name": "n"}
        assert stranger.post("/pair", data=big).status_code == 413
    assert shop.get("/api/things").json()["items"][0]["code"] == "N1"


def test_a_phone_is_let_in_with_the_code_and_works(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as mine:
        answer = pair(mine, code_of(shop).lower().replace("-", " "))
        assert answer.status_code == 200 and answer.url.path == "/"
        assert "phone of bay B was let in from" in lan.until("let in from")
        assert send(mine, "/trial/new", code="N1").url.path == "/open/N1"
        assert mine.get("/api/things/N1").json()["by"] == "phone of bay B"
        assert mine.get("/devices").status_code == 403  # who is let in is decided on the shop's PC


def test_the_session_is_the_devices_own_and_only_its_hash_lies_on_the_disk(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as mine:
        code = code_of(shop)
        first = mine.post("/pair", data={"token": token(mine, "/pair"), "code": code, "name": "a"},
                          follow_redirects=False)  # fmt: skip
        told = next(one for one in first.headers.get_list("set-cookie") if one.startswith("etchbook_device"))
        assert "HttpOnly" in told and "SameSite=strict" in told and "Max-Age" in told
        secret = mine.cookies["etchbook_device"]
    held = b"".join(path.read_bytes() for path in (lan.folder / "bench").rglob("*") if path.is_file())
    assert secret.encode() not in held and code.replace("-", "").encode() not in held


def test_the_code_is_good_once_and_a_wrong_one_is_refused_in_a_sentence(lan: Served, shop: httpx.Client) -> None:
    code = code_of(shop)
    with phone(lan) as mine, phone(lan) as other:
        assert pair(mine, code).url.path == "/"
        again = pair(other, code)
        assert again.status_code == 403 and "used or is too old" in again.text
        wrong = pair(other, "AAAA-AAAA")
        assert wrong.status_code == 403 and wrong.text.count('role="alert"') == 1
        assert other.get("/api/things").status_code == 401
        assert "The last code was used" in shop.get("/devices").text
        send(shop, "/devices/code")
        assert pair(other, code_of(shop), "tablet").url.path == "/"


def test_trying_codes_is_stopped(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as thief:
        statuses = [pair(thief, f"AAAA-AAA{letter}").status_code for letter in "ABCDEFG"]
        assert statuses == [403] * MOST_WRONG + [429] * 2
        answer = pair(thief, code_of(shop))  # also the right one is not looked at any more
        assert answer.status_code == 429 and "wait 5 minutes" in answer.text


def test_a_device_is_listed_and_sent_away(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as mine, phone(lan) as other:
        pair(mine, code_of(shop), '<b>"mine"')
        send(shop, "/devices/code")
        pair(other, code_of(shop), "other")
        page = shop.get("/devices").text
        assert "&lt;b&gt;" in page and "<b>&#34;mine" not in page and "last seen" in page
        mark = '/away">(?:(?!/away").)*Send away<span class="unseen"> &lt;b&gt;'
        name = re.search(rf"/devices/([\w-]+){mark}", page, re.S)
        assert name
        assert mine.post(f"/devices/{name[1]}/away", data={"token": token(mine)}).status_code == 403
        send(shop, f"/devices/{name[1]}/away")
        assert mine.get("/api/things").status_code == 401 and mine.get("/").url.path == "/pair"
        assert other.get("/api/things").status_code == 200
        assert "Sent away: 1" in shop.get("/devices").text


def test_a_session_outlives_a_restart(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as mine:
        pair(mine, code_of(shop))
        secret = mine.cookies["etchbook_device"]
    lan.kill()
    lan.start()
    with phone(lan) as again:
        assert again.get("/api/things").status_code == 401
        again.cookies.set("etchbook_device", secret)
        assert again.get("/api/things").status_code == 200


def test_a_program_is_let_in_as_json(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as program:
        refused = program.post("/api/pair", json={"code": "AAAA-AAAA", "name": "camera PC"})
        assert refused.status_code == 403 and "not the code" in refused.json()["error"]
        assert (
            program.post("/api/pair", json={"code": code_of(shop), "name": "camera PC"}).json()["name"] == "camera PC"
        )
        assert program.get("/api/things").status_code == 200


def test_only_the_address_in_the_network_is_a_name_there(lan: Served) -> None:
    with phone(lan) as mine:
        for host in ("127.0.0.1", "localhost", "evil.example"):
            assert mine.get("/pair", headers={"host": host}).status_code == 421
        assert mine.post("/api/pair", json={"code": "A", "name": "b"}, headers={"origin": "http://evil.example"}
                         ).status_code == 403  # fmt: skip


def test_nobody_claims_to_be_somewhere_else(lan: Served, shop: httpx.Client) -> None:
    with phone(lan) as thief:
        for number in range(MOST_WRONG + 1):
            answer = thief.post("/api/pair", json={"code": "AAAA-AAAA", "name": "x"},
                                headers={"x-forwarded-for": f"10.0.0.{number}"})  # fmt: skip
        assert answer.status_code == 429


def test_the_code_can_be_scanned(lan: Served, shop: httpx.Client, tmp_path: Path) -> None:
    from PIL import Image, ImageDraw

    svg = shop.get("/devices/code.svg")
    assert svg.headers["cache-control"] == "no-store" and "image/svg+xml" in svg.headers["content-type"]
    # The path of the code is drawn by hand: one unit a module, runs of dark modules as "M x y h n" and relative moves.
    side = int(re.search(r'viewBox="0 0 (\d+)', svg.text)[1])  # type: ignore[index]
    image = Image.new("L", (side * 8, side * 8), 255)
    pen = ImageDraw.Draw(image)
    x = y = 0.0
    for kind, numbers in re.findall(r"([Mmh])([-\d. ]+)", re.search(r' d="([^"]+)"', svg.text)[1]):  # type: ignore[index]
        values = [float(one) for one in numbers.split()]
        if kind == "h":
            pen.rectangle((x * 8, (y - 0.5) * 8, (x + values[0]) * 8 - 1, (y + 0.5) * 8 - 1), fill=0)
            x += values[0]
        else:
            x, y = (values[0], values[1]) if kind == "M" else (x + values[0], y + values[1])
    found = zxingcpp.read_barcodes(image)
    assert [one.text for one in found] == [f"{lan.address.replace('127.0.0.1', PHONE)}/pair?code={code_of(shop)}"]
    with phone(lan) as mine:
        assert f'value="{code_of(shop)}"' in mine.get(found[0].text).text


@pytest.mark.skipif(not Path("/usr/bin/chromium").exists(), reason="no browser is installed here")
def test_the_pages_can_be_used_by_everybody_and_on_a_phone(lan: Served, shop: httpx.Client) -> None:
    sync_api = pytest.importorskip("playwright.sync_api")
    found: list[str] = []
    with sync_api.sync_playwright() as play:
        opened = play.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-gpu"])
        desk = opened.new_page(viewport={"width": 1280, "height": 800}, base_url=lan.address)
        small = opened.new_page(viewport={"width": 390, "height": 844}, color_scheme="dark", has_touch=True,
                                base_url=lan.address.replace("127.0.0.1", PHONE))  # fmt: skip
        desk.goto("/devices")
        found += violations(desk)
        code = desk.locator(".pair-code").inner_text()
        small.goto("/pair")
        found += violations(small)
        small.get_by_label("Code on the shop's PC").fill("AAAA-AAAA")
        small.get_by_label("What is this device called?").fill("phone of bay B")
        small.get_by_role("button", name="Let it in").tap()
        assert small.get_by_role("alert").inner_text().startswith("That is not the code")
        found += violations(small)
        small.get_by_label("Code on the shop's PC").fill(code)
        small.get_by_role("button", name="Let it in").tap()
        small.wait_for_url("**/")
        small.goto("/pair")
        found += violations(small)
        desk.set_viewport_size({"width": 390, "height": 844})
        desk.goto("/devices")
        found += violations(desk)
        desk.get_by_role("button", name="Send away phone of bay B").click()
        small.goto("/")
        assert small.url.endswith("/pair")
        opened.close()
    assert found == []


def test_a_code_grows_old_and_patience_comes_back() -> None:
    now = [1000.0]
    pairing = Pairing(lambda: now[0])
    first = pairing.code
    now[0] += GOOD_S + 1
    assert pairing.code == ""
    with pytest.raises(WrongCodeError, match="too old"):
        pairing.spend(first, "a")
    second = pairing.renew()
    for _ in range(MOST_WRONG - 1):
        with pytest.raises(WrongCodeError):
            pairing.spend("AAAA", "a")
    with pytest.raises(TooOftenError):
        pairing.spend(second, "a")
    now[0] += WINDOW_S + 1
    pairing.spend(second, "a")
    with pytest.raises(WrongCodeError):
        pairing.spend(second, "b")


@pytest.mark.parametrize("address", ["0.0.0.0", "8.8.8.8", "shop", "224.0.0.1", "10.1.1"])
def test_the_bench_is_not_opened_to_the_internet(address: str) -> None:
    from etchbook.cli.serve import private

    with pytest.raises(RefusedError):
        private(address)
    assert private("192.168.1.20") == "192.168.1.20"
