"""kill -9 in the middle of an upload and of a reading: what was confirmed is there, what was begun is gone on with."""

import json
import signal
import socket
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path
from typing import Any

import httpx
import psutil
import pytest

from etchbook.simulate import PaintedSection
from etchbook.store.benchnotes import MOST_JOBS, BenchNotes
from etchbook.store.holding import Hold
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.ports import Hand
from etchbook.web.jobs import MOST_TRIES
from etchbook.wiring import notes as notes_module
from etchbook.wiring import shelf
from etchbook.wiring.benchjobs import Order
from etchbook.wiring.notes import JobNotes, notes_beside
from street.web.serving import Served, make_face, send, serving, wait_for

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL on Windows")
Painted = tuple[PaintedSection, bytes]


@pytest.fixture(scope="module")
def painted() -> Painted:
    """A small painted tee: how well it is read is not what is tested here."""
    from etchbook.report import picture_png
    from etchbook.simulate import draw_case, paint

    section = paint(draw_case("tee", 5), width=640, height=480, seed=5, difficulty="plain")
    return section, picture_png(section.picture)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    shelf.begin(tmp_path / "book", "Bay B").close()
    with serving(tmp_path / "book") as made:
        yield made


def client_of(served: Served) -> httpx.Client:
    return httpx.Client(base_url=served.address, follow_redirects=True, timeout=60)


def upload(client: httpx.Client, face: str, photo: bytes, key: str = "") -> httpx.Response:
    return client.post(f"/api/faces/{face}/pictures", files={"photo": ("w.png", photo, "image/png")},
                       data={"px_per_mm": "40"}, headers={"idempotency-key": key})  # fmt: skip


def children(served: Served) -> list[psutil.Process]:
    return psutil.Process(served.process.pid).children(recursive=True)


def wait_until(happened: Callable[[], bool]) -> None:
    """However slow or busy the machine is, only what is waited for counts."""
    for _ in range(1200):
        if happened():
            return
        time.sleep(0.05)
    raise AssertionError("what was waited for did not happen within a minute")


def wait_gone(processes: list[psutil.Process]) -> None:
    _, alive = psutil.wait_procs(processes, timeout=10)
    assert not alive, f"left behind: {alive}"


def test_a_reading_that_was_interrupted_is_begun_again_and_the_upload_is_one(served: Served, painted: Painted) -> None:
    with client_of(served) as client:
        face = make_face(client)
        job = upload(client, face, painted[1], "cam-17").json()["id"]
        wait_for(client, job, ("running",))
        workers = children(served)
    served.kill()
    wait_gone(workers)  # nobody goes on writing into the book of a bench that is gone
    served.start()
    time.sleep(0.7)
    served.kill()  # and once more, before it came far
    served.start()
    with client_of(served) as client:
        assert upload(client, face, painted[1], "cam-17").json()["id"] == job
        told = wait_for(client, job)
        assert told["state"] == "done" and told["result"] == f"{face}-P1-R1", told
        assert [one["code"] for one in client.get(f"/api/things/{face}/below").json()["items"]] == [f"{face}-P1"]
        editions = client.get(f"/api/things/{face}-P1-R1/editions").json()["items"]
        assert [one["edition"] for one in editions] == [1]
        assert client.get(f"/job/{job}").url.path == f"/reading/{face}-P1-R1"
        assert list((served.folder / "bench" / "uploads").iterdir()) == []


def test_an_upload_cut_off_half_way_leaves_nothing_and_can_be_sent_again(served: Served, painted: Painted) -> None:
    with client_of(served) as client:
        face = make_face(client)
    host = served.address.removeprefix("http://")
    name, _, port = host.partition(":")
    body = b'--b\r\ncontent-disposition: form-data; name="photo"; filename="w.png"\r\n\r\n' + painted[1]
    head = f"POST /api/faces/{face}/pictures HTTP/1.1\r\nhost: {host}\r\nidempotency-key: k\r\ncontent-length: "
    head += f"{len(body) + 20}\r\ncontent-type: multipart/form-data; boundary=b\r\n\r\n"
    with socket.create_connection((name, int(port))) as line:
        line.sendall(head.encode() + body[: len(body) // 2])
        time.sleep(0.2)
        served.kill()
    served.start()
    with client_of(served) as client:
        assert client.get(f"/api/things/{face}/below").json()["items"] == []
        assert client.get("/api/jobs").json()["items"] == []
        again = upload(client, face, painted[1], "k")
        assert again.status_code == 202
        client.delete(f"/api/jobs/{again.json()['id']}")


def test_uploads_killed_at_random_moments_lose_nothing_that_was_confirmed(served: Served, painted: Painted) -> None:
    with client_of(served) as client:
        face = make_face(client)
    confirmed: dict[str, str] = {}

    def send_many(start: int) -> None:
        with client_of(served) as own:
            for number in range(start, start + 30):
                try:
                    answer = upload(own, face, painted[1][:-40] + bytes([start % 251, number]) * 20, f"k{number}")
                except httpx.HTTPError:
                    return
                if answer.status_code == 202:
                    confirmed[f"k{number}"] = answer.json()["id"]

    for turn in range(3):
        with ThreadPoolExecutor(2) as pool:
            for half in (0, 30):
                pool.submit(send_many, 100 * turn + half)
            wait_until(lambda wanted=3 * turn + 2: len(confirmed) >= wanted)
            time.sleep(0.05 * turn)
            served.kill()
        served.start()
    with client_of(served) as client:
        for key, job in confirmed.items():
            assert client.get(f"/api/jobs/{job}").status_code == 200, f"{key} was confirmed and is lost"
        held, after = set(), ""
        while True:
            page = client.get("/api/jobs", params={"limit": 7, "after": after}).json()
            held |= {one["id"] for one in page["items"]}
            after = page["next"]
            if not after:
                break
        assert set(confirmed.values()) <= held
        for job in held:
            client.delete(f"/api/jobs/{job}")


def test_what_ends_the_bench_every_time_is_offered_and_not_begun_by_itself(served: Served, painted: Painted) -> None:
    with client_of(served) as client:
        face = make_face(client)
        job = upload(client, face, painted[1]).json()["id"]
        wait_for(client, job, ("running",))
    served.process.send_signal(signal.SIGTERM)  # as Ctrl C does
    served.process.wait(20)
    served.process.stdout.close()
    notes = notes_beside(served.folder)
    assert [row["state"] for row in notes.rows("jobs")] == ["running"]  # stopped kindly it is gone on with as well
    notes.change("jobs", {"id": job}, tries=MOST_TRIES)
    notes.close()
    served.start()
    with client_of(served) as client:
        assert client.get(f"/api/jobs/{job}").json()["state"] == "interrupted"
        page = client.get(f"/job/{job}").text
        assert "Read it again" in page and f"/job/{job}/again" in page
        assert f"/job/{job}" in client.get(f"/open/{face}").text
        send(client, f"/job/{job}/again")
        assert wait_for(client, job)["state"] == "done"


def test_a_killed_worker_ends_its_picture_and_not_the_bench(served: Served, painted: Painted) -> None:
    with client_of(served) as client:
        face = make_face(client)
        job = upload(client, face, painted[1]).json()["id"]
        assert wait_for(client, job)["state"] == "done"
        with ThreadPoolExecutor(1) as pool:
            asked = pool.submit(client.get, f"/reading/{face}-P1-R1/overlay.png")
            until = time.monotonic() + 20
            while not children(served) and time.monotonic() < until:
                time.sleep(0.01)
            for worker in children(served):
                worker.kill()
            answer = asked.result()
        assert answer.status_code in (200, 422) and "Traceback" not in answer.text
        assert client.get(f"/reading/{face}-P1-R1/overlay.png").headers["content-type"] == "image/png"


def order(folder: Path) -> Order:
    return Order(folder=str(folder), code="N1-01-A-1", hand=Hand(by="a", at="2026-03-14T09:30:00+01:00"))


def test_a_key_names_one_upload_on_one_face(tmp_path: Path) -> None:
    shelf.begin(tmp_path / "book", "B").close()
    held = JobNotes(tmp_path / "book", notes_beside(tmp_path / "book"))
    assert held.write("j1", order(tmp_path), "k") == "j1"
    assert held.write("j2", order(tmp_path), "k") == "j1" and held.known("k", "N1-01-A-1") == "j1"
    with pytest.raises(RefusedError, match="another upload on N1-01-A-1"):
        held.write("j3", Order(folder="", code="N1-02-A-1", hand=order(tmp_path).hand), "k")
    assert held.write("j4", order(tmp_path)) == "j4" and held.write("j5", order(tmp_path)) == "j5"
    held.close()


def test_keys_and_jobs_are_bounded_and_what_is_under_way_is_never_forgotten(tmp_path: Path) -> None:
    notes = BenchNotes(tmp_path)
    empty = {"owner": "x", "code": "c", "wanted": "{}", "step": "", "result": "", "picture": "", "tries": 0}
    notes.add("jobs", id="running", key="kr", state="running", **empty)
    for number in range(MOST_JOBS + 20):
        notes.add("jobs", id=f"j{number}", key=f"k{number}", state="done", **empty)
    assert len(notes.rows("jobs")) == MOST_JOBS + 1
    assert notes.row("jobs", id="running") and notes.row("jobs", id="j0") is None and notes.row("jobs", key="k1019")


def test_jobs_of_a_bench_that_still_runs_are_left_to_it(tmp_path: Path) -> None:
    book = tmp_path / "book"
    shelf.begin(book, "B").close()
    notes = notes_beside(book)
    first, second = JobNotes(book, notes), JobNotes(book, notes)
    first.write("j1", order(book))
    assert second.left() == []
    first.close()
    assert [one.id for one in second.left()] == ["j1"] and second.left() == []
    other = Hold(tmp_path / "h")
    assert other.abandoned("0" * 16) and not other.abandoned(other.name)
    other.release()
    second.close()


def test_what_is_too_large_or_empty_is_refused_on_the_way_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    held = JobNotes(tmp_path, notes_beside(tmp_path))
    monkeypatch.setattr(notes_module, "MOST_BYTES", 3_000_000)
    monkeypatch.setattr(notes_module, "BLOCK", 1_000_000)
    for data, words in ((b"x" * 3_000_001, "at most 3 MB"), (b"", "is empty")):
        with pytest.raises(RefusedError, match=words):
            held.take_in(BytesIO(data), "a.jpg")
    assert list(held.uploads.iterdir()) == []
    kept = Path(held.take_in(BytesIO(b"x" * 3_000_000), "../../evil.sh"))
    assert kept.parent == held.uploads and kept.suffix == ".jpg" and kept.stat().st_size == 3_000_000
    held.close()


def test_where_nothing_may_be_written_beside_the_book_uploads_come_in_all_the_same(tmp_path: Path) -> None:
    (tmp_path / "bench").write_text("this is in the way")
    held = JobNotes(tmp_path, notes_beside(tmp_path))
    kept = Path(held.take_in(BytesIO(b"x" * 100), "a.png"))
    assert kept.stat().st_size == 100 and not kept.is_relative_to(tmp_path)
    assert held.write("j1", order(tmp_path)) == "j1" and held.get("j1") is not None
    held.close()


def test_damaged_notes_are_put_aside_and_the_book_opens(tmp_path: Path) -> None:
    notes = BenchNotes(tmp_path)
    notes.add("drafts", id="d", code="c", seen=1, person="p", at="a", marks="{}", scale="")
    notes.close()
    file = tmp_path / "bench" / "notes.sqlite"
    for ending in ("-wal", "-shm"):
        file.with_name(file.name + ending).unlink(missing_ok=True)
    file.write_bytes(b"this is no database at all" * 400)
    again = BenchNotes(tmp_path)
    assert again.rows("drafts") == [] and file.with_name("notes.sqlite.damaged").exists()
    row: dict[str, Any] = {"code": "c", "seen": 1, "person": "p", "at": "a", "marks": json.dumps({}), "scale": ""}
    assert again.add("drafts", id="e", **row) and not again.add("drafts", id="e", **row)
