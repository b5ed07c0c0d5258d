"""The pages, from an empty book to the report."""

import re
import time

import pytest

from etchbook.simulate import PaintedSection


def values(text: str) -> dict[str, str]:
    return dict(re.findall(r'name="set\.(\w+)" value="([^"]*)"', text))


def test_an_empty_book_says_how_to_begin_and_is_filled_with_the_demo_section_by_section(bench) -> None:
    assert "Begin your book" in bench.get("/").text and "Your book is empty" in bench.get("/demo").text
    watched = bench.send("/demo")
    job = watched.url.path.removeprefix("/job/")
    assert "is being painted and read" in watched.text
    assert bench.send("/demo").url.path == watched.url.path, "it is filled once, however often that is pressed"
    until = time.monotonic() + 240
    while not bench.get(f"/api/jobs/{job}").json()["picture"] and time.monotonic() < until:
        time.sleep(0.1)
    assert bench.send(f"/job/{job}/stop").url.path == "/demo"
    seen = bench.get("/demo").text
    reading = re.search(r'href="(/reading/N1-01-B-1-P1-R1)"', seen)
    assert reading and "Paint and read what is missing" in seen and "/compare/seen" not in seen
    page = bench.get(f"{reading[1]}?against=iso-5817:B").text
    assert 'class="verdict not-met"' in page
    assert 'class="indication"' not in page, "no line was painted into this section"
    again = bench.send("/demo")
    assert again.url.path.startswith("/job/") and again.url.path != watched.url.path
    bench.send(f"{again.url.path}/stop")


def test_the_demo_is_kept_out_of_a_book_with_trials_of_its_own(bench) -> None:
    bench.send("/trial/new", code="K1")
    assert "trials of its own" in bench.get("/demo").text and 'action="/demo"' not in bench.get("/demo").text
    refused = bench.send("/demo")
    assert refused.status_code == 422 and "empty" in refused.text
    assert bench.get("/api/things?kind=trial").json()["items"][0]["code"] == "K1"


def test_the_last_beads_settings_are_filled_in_as_they_were_typed(bench) -> None:
    bench.send("/trial/new", code="N1")
    bench.send("/trial/N1/bead", **{"set.volts": "18.5 V", "set.travel": "12 in/min", "seen": "spatter"})
    assert values(bench.get("/trial/N1/bead").text) | {"amps": ""} == {
        **values(bench.get("/trial/N1/bead").text),
        "volts": "18.5 V",
        "travel": "12 in/min",
        "amps": "",
    }
    held = bench.get("/api/things/N1-01").json()["record"]["settings"]
    travel = next(one for one in held if one["name"] == "travel")
    assert travel["value"] == pytest.approx(12 * 25.4 / 60)


def test_a_number_without_its_unit_is_refused_in_a_sentence_and_nothing_is_kept(bench) -> None:
    bench.send("/trial/new", code="N1")
    answer = bench.send("/trial/N1/bead", **{"set.travel": "fast"})
    assert answer.status_code == 422 and 'role="alert"' in answer.text
    assert bench.get("/api/things/N1/below").json()["items"] == []


def test_cut_parts_know_what_they_met_and_where_they_are(bench, face: str) -> None:
    bench.send("/piece/N1-01-B/place", place="drawer 4", state="kept")
    page = bench.get("/open/N1-01-A").text
    assert "N1-01-B" in page and "drawer 4" in page
    assert face == "N1-01-A-1"


def test_two_people_at_one_bead_do_not_overwrite_each_other(bench) -> None:
    bench.send("/trial/new", code="N1")
    bench.send("/trial/N1/bead", **{"set.volts": "18.5 V"})
    assert bench.send("/bead/N1-01/settings", edition="1", seen="spatter").status_code == 200
    late = bench.send("/bead/N1-01/settings", edition="1", seen="none")
    assert late.status_code == 409 and "edition 2, you saw 1" in late.text


def test_what_people_write_is_shown_as_they_wrote_it_and_never_run(bench) -> None:
    bench.send("/trial/new", code="N1", question="<script>alert(1)</script>")
    for path in ("/", "/open/N1", "/find?q=<script>", "/trial/N1/bead"):
        text = bench.get(path).text
        assert "<script>alert" not in text and '"><script>' not in text
    assert "&lt;script&gt;" in bench.get("/open/N1").text


def test_the_preparation_card_ticks_land_on_the_face(bench, face: str) -> None:
    card = f"/face/{face}/card?want=outline&material=carbon_steel&cut=saw"
    assert "data-seconds" in bench.get(card).text
    after = bench.send(f"/face/{face}/card", want="outline", material="carbon_steel", cut="saw", done="etch",
                       **{"took.etch": "8 s"})  # fmt: skip
    assert "ticked off" in after.text
    steps = bench.get(f"/api/things/{face}").json()["record"]["steps"]
    assert [(one["kind"], one["seconds"], one["by"]) for one in steps] == [("etch", 8.0, "tester")]


def test_labels_come_as_a_pdf_and_to_be_written_by_hand(bench, face: str) -> None:
    from etchbook.trials import with_check

    assert with_check("N1-01-A") in bench.get("/labels/N1").text
    sheet = bench.get("/labels/N1/sheet.pdf")
    assert sheet.headers["content-type"] == "application/pdf" and sheet.content.startswith(b"%PDF")


def test_from_a_photograph_to_the_judgement_and_the_report(
    bench, face: str, painted: tuple[PaintedSection, bytes]
) -> None:
    section, photo = painted
    answer = bench.send(f"/face/{face}/picture", files={"photo": ("weld <1>.png", photo, "image/png")},
                        scale_from="typed", px_per_mm=f"{section.truth.px_per_mm:.6f}")  # fmt: skip
    told = bench.wait(answer.url.path.removeprefix("/job/")) if answer.url.path.startswith("/job/") else None
    assert told is None or told["state"] == "done", told
    code = f"{face}-P1-R1"
    read = bench.get(f"/api/readings/{code}").json()
    assert read["picture"]["name"] == "weld <1>.png"
    for name in ("leg_1", "leg_2"):
        one = read["dimensions"][name]
        assert abs(one["value"] - section.truth.dimensions[name]) < 4 * one["u"]
    page = bench.get(f"/reading/{code}?against=iso-5817:B").text
    assert "Beside limits" in page and '<svg class="axis"' in page and "weld <1>" not in page
    assert bench.send(f"/reading/{code}/judge", against="iso-5817:B", edition="1").status_code == 200
    assert bench.get(f"/api/things/{code}-J1").json()["record"]["edition"] == 1
    pdf = bench.get(f"/reading/{code}/report.pdf?against=iso-5817:B")
    assert pdf.content.startswith(b"%PDF") and len(pdf.content) > 50_000
    preview = bench.get(f"/reading/{code}/report.html")
    assert "sandbox" in preview.headers["content-security-policy"]


def test_what_is_no_photograph_is_refused_by_the_job_and_not_kept(bench, face: str) -> None:
    answer = bench.send(f"/face/{face}/picture", files={"photo": ("x.png", b"not a picture", "image/png")})
    told = bench.wait(answer.url.path.removeprefix("/job/"))
    assert told["state"] == "refused" and "Traceback" not in told["step"]
    assert bench.get(f"/api/things/{face}/below").json()["items"] == []
    assert f'href="/open/{face}#photo"' in bench.get(answer.url.path).text  # what to do next


def test_a_stopped_job_keeps_nothing_half_done(bench, face: str, painted: tuple[PaintedSection, bytes]) -> None:
    _, photo = painted
    job = bench.client.post(f"/api/faces/{face}/pictures", files={"photo": ("w.png", photo, "image/png")}).json()
    assert bench.client.delete(f"/api/jobs/{job['id']}").status_code == 200
    assert bench.wait(job["id"])["state"] == "stopped"
    assert bench.get("/api/things?kind=reading").json()["items"] == []
