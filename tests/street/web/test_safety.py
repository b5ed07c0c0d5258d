"""Who is let in, and what an answer may do in a browser."""

import socket

import httpx
import pytest

from etchbook.web.safety.gate import MOST_BYTES


def test_a_form_without_our_token_changes_nothing(bench) -> None:
    answer = bench.client.post("/trial/new", data={"code": "N1"})
    assert answer.status_code == 403
    assert bench.get("/api/things").json()["items"] == []


def test_a_token_of_another_session_is_refused(bench) -> None:
    with httpx.Client(base_url=bench.address) as other:
        other.get("/")
        answer = other.post("/trial/new", data={"code": "N1", "token": bench.token()})
    assert answer.status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "192.168.0.7"])
def test_only_our_own_host_name_is_answered(bench, host: str) -> None:
    assert bench.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize(
    "headers", [{"origin": "http://evil.example"}, {"sec-fetch-site": "cross-site"}, {"origin": "null"}]
)
def test_pages_elsewhere_cannot_write_through_a_persons_browser(bench, headers: dict[str, str]) -> None:
    assert bench.client.post("/api/trials", json={"code": "N1"}, headers=headers).status_code == 403
    assert bench.get("/api/things").json()["items"] == []


@pytest.mark.parametrize("path", ["/", "/open/N9", "/static/bench.css", "/api/limits", "/nothing"])
def test_every_answer_says_what_it_may_load(bench, path: str) -> None:
    headers = bench.get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff" and headers["referrer-policy"] == "no-referrer"


def test_the_cookie_is_for_us_alone(bench) -> None:
    with httpx.Client(base_url=bench.address) as fresh:
        cookie = fresh.get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie


def test_a_request_that_says_it_is_too_large_is_turned_away_unread(bench) -> None:
    host = bench.address.removeprefix("http://")
    name, _, port = host.partition(":")
    with socket.create_connection((name, int(port)), timeout=10) as line:
        line.sendall(f"POST /trial/new HTTP/1.1\r\nhost: {host}\r\ncontent-length: {MOST_BYTES + 1}\r\n\r\n".encode())
        assert line.recv(200).startswith(b"HTTP/1.1 413")


@pytest.mark.parametrize(
    ("path", "kind"), [("/trial/new", "application/x-www-form-urlencoded"), ("/api/trials", "application/json")]
)
def test_a_request_that_hides_its_size_is_stopped_on_the_way(
    bench, monkeypatch: pytest.MonkeyPatch, path: str, kind: str
) -> None:
    token = bench.token()
    monkeypatch.setattr("etchbook.web.safety.gate.MOST_BYTES", 100_000)
    start = f"token={token}&question=" if "form" in kind else '{"code": "'
    pieces = (start.encode() if number == 0 else b"x" * 10_000 for number in range(30))
    try:
        answer = bench.client.post(path, content=pieces, headers={"content-type": kind})
    except (httpx.ReadError, httpx.WriteError):  # the line was cut while we were still sending: that is an answer too
        pass
    else:
        assert answer.status_code == 413 and "the most that is taken in" in answer.text
    assert bench.get("/api/things").json()["items"] == []


def test_no_path_reaches_the_disk(bench) -> None:
    for path in ("/static/../app.py", "/static/%2e%2e/app.py", "/reading/..%2f..%2fetc/report.pdf", "/open/..%2fetc"):
        assert bench.get(path).status_code in (404, 422)
    bench.send("/trial/new", code="N1")
    answer = bench.get("/reading/N1-01-A-1-P1-R1?against=/etc/passwd.toml")
    assert answer.status_code in (404, 422) and "root:" not in answer.text


def test_templates_hold_no_inline_script_or_style() -> None:
    import re
    from pathlib import Path

    import etchbook.web

    folder = Path(etchbook.web.__file__).parent / "templates"
    pages = list(folder.glob("*.html"))
    assert len(pages) > 10
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert not re.search(r"\sstyle=|\son\w+=|<style|<script(?![^>]*src=)", text), page.name
        assert "| safe" not in text, page.name
