"""Limits: those of the standards to look at, and a shop's own as a form."""

import re
from pathlib import Path

import pytest

from etchbook.report import picture_png
from etchbook.simulate import PaintedSection
from etchbook.store.backups import backup
from etchbook.tables import load_limits, own_limits
from etchbook.usecases.ownlimits import OwnRow, OwnRowError, rows_of, toml_of
from etchbook.usecases.painting import paint

SHEET = {
    "title": "Bracket fillet, bay sheet 4",
    "dimension.0": "leg_1", "least.0": "3", "clause.0": "sheet 4",
    "dimension.1": "throat", "least.1": "0.9 * a",
    "dimension.2": "undercut_1", "most.2": "0.05 * t", "cap.2": "0,5", "short.2": "yes",
}  # fmt: skip


def test_every_packaged_row_is_shown_with_its_clause_edition_and_status(bench) -> None:
    assert "iso-5817:B" in bench.get("/limits").text
    page = bench.get("/limits/set/iso-5817:B").text
    for row in load_limits("iso-5817:B").limits:
        assert row.clause in page and row.edition in page and row.status in page
    assert bench.get("/limits/set/iso-5817:Z").status_code == 422


def test_own_limits_are_kept_as_the_file_that_the_commands_take(bench) -> None:
    kept = bench.send("/limits/own", **SHEET)
    assert kept.status_code == 200 and "at least 0.9 × a" in kept.text and "never more than 0.5" in kept.text
    held = {
        row.id: row for row in own_limits((bench.folder / "limits/bracket-fillet-bay-sheet-4.toml").read_text()).limits
    }
    assert held["leg_1"].least == "3.0" and held["leg_1"].clause == "sheet 4"
    assert held["undercut_1"].most == "0.05 * t" and held["undercut_1"].short and held["undercut_1"].cap == "0.5"
    sent = bench.get("/limits/own/bracket-fillet-bay-sheet-4.toml")
    assert "attachment" in sent.headers["content-disposition"] and own_limits(sent.text)
    again = bench.send("/limits/own", **SHEET)
    assert again.status_code == 422 and "of that title already" in again.text


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"least.0": "thick"}, "least.0"),
        ({"most.1": "0.1 * q"}, "most.1"),
        ({"cap.2": "a lot"}, "cap.2"),
        ({"dimension.1": "leg_1"}, "dimension.1"),
        ({"dimension.0": ""}, "dimension.0"),
        ({"least.0": "5", "most.0": "4"}, "least.0"),
        ({"title": ""}, "title"),
    ],
)
def test_a_row_that_cannot_be_used_is_told_beside_its_field_and_nothing_is_kept(bench, typed, field) -> None:
    answer = bench.send("/limits/own", **{**SHEET, **typed})
    assert answer.status_code == 422 and f'id="e-{field}"' in answer.text
    assert 'value="0.05 * t"' in answer.text
    assert not (bench.folder / "limits").exists()


def test_two_people_at_one_set_of_limits_do_not_overwrite_each_other(bench) -> None:
    bench.send("/limits/own", **SHEET)
    page = bench.get("/limits/own/bracket-fillet-bay-sheet-4").text
    mark = re.findall(r'name="mark" value="(\w+)"', page)[0]
    first = bench.send("/limits/own/bracket-fillet-bay-sheet-4", **{**SHEET, "least.0": "4"}, mark=mark)
    assert first.status_code == 200
    late = bench.send("/limits/own/bracket-fillet-bay-sheet-4", **{**SHEET, "least.0": "9"}, mark=mark)
    assert late.status_code == 409 and 'value="9"' in late.text
    assert len(list((bench.folder / "limits").glob("*.before"))) == 1


def test_own_limits_go_along_into_a_backup(bench, tmp_path: Path) -> None:
    bench.send("/limits/own", **SHEET)
    backup(bench.folder, tmp_path / "copy").close()
    name = "limits/bracket-fillet-bay-sheet-4.toml"
    assert (tmp_path / "copy" / name).read_bytes() == (bench.folder / name).read_bytes()


def test_no_name_from_an_address_reaches_the_disk(bench) -> None:
    (bench.folder / "secret.toml").write_text("[leg_1]\nleast = 1\n")
    for name in ("..%2Fsecret", "..%5Csecret", ".%2e/secret", "own:../secret"):
        assert bench.get(f"/limits/own/{name}").status_code in (404, 422)
        assert bench.get(f"/limits/set/own:{name}").status_code in (404, 422)


def test_rows_come_back_as_they_were_filled_in() -> None:
    rows = (
        OwnRow(dimension="leg_1", least="6"),
        OwnRow(dimension="throat", most="1.2 * a", cap="8", remark='a "b" \\ c'),
    )
    title, back = rows_of(toml_of("Sheet 4", rows))
    assert title == "Sheet 4" and back == rows
    with pytest.raises(OwnRowError) as told:
        toml_of("", (*rows, OwnRow(dimension="leg_2", most="__import__('os')")))
    assert (told.value.row, told.value.key) == (2, "most")


@pytest.fixture(scope="module")
def lined() -> tuple[PaintedSection, bytes]:
    """A small painted tee with a segregation in its plate, and its photograph."""
    _, section = next(iter(paint("tee", 3, (1000, 750), difficulty="plain", lines="segregation")))
    return section, picture_png(section.picture)


def test_own_limits_and_questions_on_the_page_of_a_reading(
    bench, face: str, lined: tuple[PaintedSection, bytes]
) -> None:
    section, photo = lined
    scale = f"{section.truth.px_per_mm:.6f}"
    answer = bench.send(f"/face/{face}/picture", files={"photo": ("w.png", photo, "image/png")}, scale_from="typed",
                        px_per_mm=scale)  # fmt: skip
    told = bench.wait(answer.url.path.removeprefix("/job/")) if answer.url.path.startswith("/job/") else None
    assert told is None or told["state"] == "done", told
    code = f"{face}-P1-R1"
    bench.send("/limits/own", **SHEET)
    own = "own:bracket-fillet-bay-sheet-4"
    page = bench.get(f"/reading/{code}", params={"against": own}).text
    assert "Bracket fillet, bay sheet 4" in page and "sheet 4" in page and '<svg class="axis"' in page
    assert bench.send(f"/reading/{code}/judge", against=own, edition="1").status_code == 200
    assert bench.get(f"/api/things/{code}-J1").json()["record"]["against"] == own
    assert bench.get(f"/reading/{code}/report.pdf", params={"against": own}).content.startswith(b"%PDF")
    judged = bench.get(f"/api/readings/{code}/judgement", params={"against": own}).json()
    leg = next(one for one in judged["findings"] if one["dimension"] == "leg_1")
    true = section.truth.dimensions["leg_1"]
    assert leg["verdict"] == ("met" if true > 3.3 else "not met") and abs(true - 3) > 0.3, "the leg lies clear of 3 mm"
    kept = bench.client.post(f"/api/readings/{code}/judgements", json={"against": own.upper(), "edition": 1})
    assert kept.status_code == 201 and kept.json()["record"]["against"] == own
    printed = bench.get(f"/api/readings/{code}/report.pdf", params={"against": own})
    assert printed.content.startswith(b"%PDF")
    bench.client.delete(f"/api/own-limits/{own[4:]}")
    assert bench.get(f"/reading/{code}/report").status_code == 200
    assert bench.get(f"/reading/{code}").status_code == 200  # its report is no more held against what is gone
    assert bench.get(f"/api/things/{code}-J1").json()["record"]["against"] == own
    bench.client.post(f"/api/binned-limits/{own[4:]}.1/back")
    wrong = bench.get(f"/reading/{code}", params={"against": "own:nothing"})
    assert "called &#34;nothing&#34;" in wrong.text and "Dimensions" in wrong.text

    asked = re.search(
        r'action="/indication/([^"]+)/answer".*?name="check" value="(\w+)".*?name="state" value="(\w+)"', page, re.S
    )
    assert asked, "the painted section has an indication that leaves a question"
    which, check, state = asked.groups()
    part = bench.client.get(f"/indication/{which}?passed={check}", headers={"hx-request": "true"}).text
    assert "<html" not in part and f'name="check" value="{check}"' not in part
    done = bench.client.post(f"/indication/{which}/answer", headers={"hx-request": "true"},
                             data={"token": bench.token(), "check": check, "state": state})  # fmt: skip
    assert f'id="{which}"' in done.text and "<html" not in done.text
    kept = bench.get(f"/api/things/{which}").json()["record"]["answers"]
    assert [(one["check"], one["answer"], one["by"]) for one in kept] == [(check, state, "tester")]
    assert bench.get(f"/indication/{which}").url.path == f"/reading/{code}"

    number = which.rpartition("-X")[2]
    for name in ("crop", "profile"):
        drawn = bench.get(f"/reading/{code}/{name}/{number}.svg")
        assert drawn.headers["content-type"].startswith("image/svg") and b"<svg" in drawn.content
        assert "script-src" not in drawn.headers["content-security-policy"]
        assert "sandbox" in drawn.headers["content-security-policy"]


OWN = {"title": "Bracket fillet, sheet 4 ⌀", "rows": [{"dimension": "leg_1", "least": 3.0},
       {"dimension": "throat", "least": "0.9 * a", "clause": "sheet 4"}]}  # fmt: skip


def test_own_limits_are_kept_listed_and_changed_by_programs_too(bench) -> None:
    made = bench.client.put("/api/own-limits/sheet-4", json=OWN)
    assert made.status_code == 200 and made.json()["against"] == "own:sheet-4"
    held = {row.id: row for row in own_limits((bench.folder / "limits/sheet-4.toml").read_text()).limits}
    assert held["leg_1"].least == "3.0" and held["throat"].least == "0.9 * a"
    assert bench.get("/api/limits").json()["items"][0] == "own:sheet-4"
    assert [one["name"] for one in bench.get("/api/own-limits").json()["items"]] == ["sheet-4"]
    assert bench.client.put("/api/own-limits/sheet-4", json=OWN).status_code == 409
    again = {"title": "Sheet 5", "rows": [{"dimension": "leg_1", "least": 4.0}], "mark": made.json()["mark"]}
    told = bench.client.put("/api/own-limits/sheet-4", json=again).json()
    assert told == bench.get("/api/own-limits/sheet-4").json()
    assert told["title"] == "Sheet 5" and [row["least"] for row in told["rows"]] == ["4"]
    for wrong in ({**OWN, "rows": [{"dimension": "leg_1", "least": "thick"}]}, {**OWN, "rows": []},
                  {**OWN, "rows": [{"dimension": "colour", "least": 1.0}]}):  # fmt: skip
        assert bench.client.put("/api/own-limits/other", json=wrong).status_code == 422
    assert bench.client.put("/api/own-limits/..%2Fx", json=OWN).status_code in (404, 422)
    assert sorted(one.name for one in (bench.folder / "limits").glob("*.toml")) == ["sheet-4.toml"]


def test_own_limits_go_into_the_bin_and_come_back(bench) -> None:
    bench.send("/limits/own", **SHEET)
    name = "bracket-fillet-bay-sheet-4"
    text = (bench.folder / f"limits/{name}.toml").read_text()
    page = bench.get(f"/limits/set/own:{name}").text
    mark = re.findall(r'name="mark" value="(\w+)"', page)[0]
    assert bench.send(f"/limits/own/{name}/bin", mark="0" * 64).status_code == 409
    binned = bench.send(f"/limits/own/{name}/bin", mark=mark)
    assert binned.url.path == "/bin" and "Bracket fillet, bay sheet 4" in binned.text and "tester" in binned.text
    assert bench.get("/limits").text.count("Bracket fillet") == 0
    gone = bench.get(f"/limits/set/own:{name}")
    assert gone.status_code == 404 and "brought back" in gone.text
    assert bench.send(f"/limits/bin/{name}.1").url.path == f"/limits/set/own:{name}"
    assert (bench.folder / f"limits/{name}.toml").read_text() == text
    assert bench.send(f"/limits/bin/{name}.1").status_code == 404
    assert bench.send("/limits/bin/..%2F..%2Fsecret.1").status_code in (404, 422)


def test_a_name_that_was_binned_may_be_used_again_and_neither_is_lost(bench) -> None:
    first = bench.client.put("/api/own-limits/sheet-4", json=OWN).json()
    assert bench.client.delete(f"/api/own-limits/sheet-4?mark={'0' * 64}").status_code == 409
    gone = bench.client.delete(f"/api/own-limits/sheet-4?mark={first['mark']}").json()
    assert gone["id"] == "sheet-4.1" and gone["by"] == "tester"
    assert bench.client.delete("/api/own-limits/sheet-4").status_code == 404
    bench.client.put("/api/own-limits/sheet-4", json={**OWN, "title": "another"})
    taken = bench.client.post("/api/binned-limits/sheet-4.1/back")
    assert taken.status_code == 422 and "again" in taken.json()["error"]
    assert bench.client.delete("/api/own-limits/sheet-4").json()["id"] == "sheet-4.2"
    assert {one["id"] for one in bench.get("/api/binned-limits").json()["items"]} == {"sheet-4.1", "sheet-4.2"}
    back = bench.client.post("/api/binned-limits/sheet-4.1/back").json()
    assert back == bench.get("/api/own-limits/sheet-4").json() and back["mark"] == first["mark"]


def test_limits_in_the_bin_go_along_into_a_backup(bench, tmp_path: Path) -> None:
    bench.client.put("/api/own-limits/sheet-4", json=OWN)
    bench.client.delete("/api/own-limits/sheet-4")
    backup(bench.folder, tmp_path / "copy").close()
    name = "limits/bin/sheet-4.1.toml"
    assert (tmp_path / "copy" / name).read_bytes() == (bench.folder / name).read_bytes()
