"""Two people change one reading: the second is shown what changed, and nothing of either is lost."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest

from etchbook.quantity import Absent, Measured
from etchbook.usecases.meeting import beside, changed_marks, laid_together
from etchbook.wiring import shelf
from street.web.serving import Served, make_face, send, serving, violations, wait_for

CHROMIUM = Path("/usr/bin/chromium")


def test_marks_are_laid_together_name_by_name() -> None:
    before = {"toe_1": [1.0, 1.0], "toe_2": [5.0, 5.0], "weld_face": [[2.0, 2.0]]}
    theirs = {"toe_1": [1.5, 1.0], "toe_2": [5.0, 5.0], "weld_face": [[2.0, 2.0]], "joint_root": [9.0, 9.0]}
    yours = {"toe_1": [1.0, 1.0], "toe_2": [6.0, 5.0]}
    assert changed_marks(before, yours) == ("toe_2", "weld_face")
    assert laid_together(before, theirs, yours) == {"toe_1": [1.5, 1.0], "toe_2": [6.0, 5.0], "joint_root": [9.0, 9.0]}
    both = laid_together(before, theirs, {**yours, "toe_1": [0.5, 1.0]})
    assert both["toe_1"] == [0.5, 1.0]  # both moved it: yours stays


def test_what_differs_stands_first_and_in_words() -> None:
    def leg(value: float) -> Measured:
        return Measured(value=value, u=0.05, unit="mm")

    rows = beside({"leg_1": leg(4), "leg_2": leg(5)}, {"leg_1": leg(4), "leg_2": leg(5.3)},
                  {"leg_1": leg(4), "leg_2": Absent(reason="no toe")}, {})  # fmt: skip
    assert [(row.id, row.differs) for row in rows] == [("leg_2", True), ("leg_1", False)]
    assert rows[0].before.startswith("5.0") and rows[0].theirs.startswith("5.3")
    assert rows[0].yours == "not read: no toe" and rows[0].both == "not there"


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Served, str, tuple[float, float]]]:
    """A bench with one reading, and where its toe 1 is in truth [px]."""
    from etchbook.report import picture_png
    from etchbook.simulate import draw_case, paint

    folder = tmp_path_factory.mktemp("meeting")
    section = paint(draw_case("tee", 5), width=640, height=480, seed=5, difficulty="plain")
    shelf.begin(folder / "book", "Bay B").close()
    with serving(folder / "book") as served, httpx.Client(base_url=served.address, timeout=90) as client:
        client.follow_redirects = True
        face = make_face(client)
        job = client.post(f"/api/faces/{face}/pictures", files={"photo": ("w.png", picture_png(section.picture))},
                          data={"px_per_mm": f"{section.truth.px_per_mm:.6f}"}).json()["id"]  # fmt: skip
        assert wait_for(client, job)["state"] == "done"
        px = client.get(f"/api/readings/{face}-P1-R1").json()["outline"]["px"]
        toe = px["toe_1"] if "toe_1" in px else px["weld_face"][0]
        yield served, f"{face}-P1-R1", (float(toe[0]), float(toe[1]))


@contextmanager
def browser(served: Served, by: str) -> Iterator[httpx.Client]:
    with httpx.Client(base_url=served.address, follow_redirects=True, timeout=90) as client:
        send(client, "/by", by=by)
        yield client


def looked_at(served: Served, path: str) -> list[str]:
    """What a browser complains of, on the desk in the light and on a phone in the dark."""
    if not CHROMIUM.exists():
        return []
    sync_api = pytest.importorskip("playwright.sync_api")
    found: list[str] = []
    with sync_api.sync_playwright() as play:
        opened = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        for wide, scheme in ((1280, "light"), (390, "dark")):
            page = opened.new_page(viewport={"width": wide, "height": 800}, color_scheme=scheme,
                                   base_url=served.address)  # fmt: skip
            page.on("console", lambda told: found.append(told.text) if told.type == "error" else None)
            page.goto(path, timeout=90_000)
            found.extend(violations(page))
        opened.close()
    return found


def test_the_second_save_waits_beside_the_first_until_it_is_decided(
    read: tuple[Served, str, tuple[float, float]],
) -> None:
    served, code, (x, y) = read
    with browser(served, "anna") as anna, browser(served, "ben") as ben:
        first = ben.post(
            f"/api/readings/{code}/corrections", json={"edition": 1, "marks": {"toe_1": [x + 9.0, y + 9.0]}}
        )
        assert first.status_code == 201 and first.json()["edition"] == 2
        late = anna.post(
            f"/api/readings/{code}/corrections", json={"edition": 1, "marks": {"toe_1": [x - 9.0, y - 9.0]}}
        )
        told = late.json()
        assert late.status_code == 409 and "ben saved edition 2 while you worked on edition 1" in told["error"]
        editions = anna.get(f"/api/things/{code}/editions").json()["items"]
        assert len(editions) == 2  # nothing of hers was written over his
        rows = anna.get(f"/api/drafts/{told['draft']}").json()["rows"]
        leg = next(row for row in rows if row["id"].startswith("leg") and row["theirs"] != row["yours"])
        was, his, hers = (float(leg[name].split()[0]) for name in ("before", "theirs", "yours"))
        assert (his - was) * (hers - was) < 0  # he moved the toe one way, she the other
        assert leg["both"] == leg["yours"]  # both moved that toe: hers stays
        page = anna.get(told["beside"]).text
        assert all(leg[name] in page for name in ("before", "theirs", "yours"))
        assert "Both of you moved: toe 1" in page
        # The very same save sent again waits once, and outlives the bench.
        again = anna.post(
            f"/api/readings/{code}/corrections", json={"edition": 1, "marks": {"toe_1": [x - 9.0, y - 9.0]}}
        )
        assert again.json()["draft"] == told["draft"]
        assert f"/beside/{told['draft']}" in anna.get(f"/reading/{code}").text
        assert looked_at(served, told["beside"]) == []
    served.kill()
    served.start()
    with browser(served, "anna") as anna:
        stale = anna.post(f"/api/drafts/{told['draft']}/decision", json={"choice": "mine", "edition": 1})
        assert stale.status_code == 409 and "edition 2 by now" in stale.json()["error"]
        kept = send(anna, told["beside"], choice="mine", edition="2")
        assert kept.url.path == f"/reading/{code}"
        newest = anna.get(f"/api/things/{code}").json()
        assert newest["edition"] == 3 and newest["by"] == "anna"
        shown = {one["name"]: one for one in newest["record"]["dimensions"]}
        assert shown[leg["id"]]["value"] == pytest.approx(hers, abs=0.06)
        assert anna.get(f"/api/drafts/{told['draft']}").status_code == 404
        editions = anna.get(f"/api/things/{code}/editions").json()["items"]
        assert [one["by"] for one in editions] == ["tester", "ben", "anna"]  # every edition stays in the book


def test_theirs_may_stand(read: tuple[Served, str, tuple[float, float]]) -> None:
    served, code, (x, y) = read
    with browser(served, "carl") as carl:
        newest = carl.get(f"/api/things/{code}").json()["edition"]
        late = carl.post(f"/api/readings/{code}/corrections", json={"edition": 1, "marks": {"toe_1": [x, y + 2.0]}})
        if newest == 1:  # run alone: nobody was there before
            assert late.status_code == 201
            return
        kept = carl.post(f"/api/drafts/{late.json()['draft']}/decision", json={"choice": "theirs", "edition": newest})
        assert kept.json() == {"code": code, "edition": newest}
        assert carl.get(f"/api/things/{code}").json()["edition"] == newest
