"""History, the bin, certificates and places; and forms that were refused."""

import re


def a_bead(bench) -> None:
    bench.send("/trial/new", code="N1", joint="tee")
    bench.send("/trial/N1/bead", **{"set.volts": "18.5 V"})


def test_a_refused_form_comes_back_as_it_was_typed_with_the_sentence_beside_its_field(bench) -> None:
    bench.send("/trial/new", code="N1")
    answer = bench.send("/trial/N1/bead", **{"set.travel": "fast", "set.volts": "18.5 V", "seen": "spatter <b>"})
    assert answer.status_code == 422
    assert 'name="set.travel" value="fast"' in answer.text and 'name="set.volts" value="18.5 V"' in answer.text
    assert "spatter &lt;b&gt;" in answer.text
    field = answer.text[answer.text.index('id="e-set.travel"') :]
    assert "travel" in field[: field.index("</p>")]
    assert re.search(r'id="f-set\.travel"[^>]*aria-describedby="e-set\.travel"[^>]*aria-invalid="true"', answer.text)
    assert bench.get("/api/things/N1/below").json()["items"] == []


def test_sizes_of_a_joint_that_nobody_named_are_not_dropped_in_silence(bench) -> None:
    answer = bench.send("/trial/new", code="N1", thickness_1="8 mm")
    assert answer.status_code == 422 and 'id="e-joint"' in answer.text and 'value="8 mm"' in answer.text
    assert bench.get("/api/things/N1").status_code == 404


def test_every_form_that_is_refused_keeps_what_was_typed(bench, face: str) -> None:
    forms = {
        "/trial/new": ({"question": "why?", "thickness_1": "8", "joint": "tee"}, "thickness_1"),
        "/certificates": ({"material": "S355", "share.C": "much"}, "share.C"),
        "/bead/N1-01/plates": ({"plate_1.material": "S355", "plate_1.thickness": "thick"}, "plate_1.thickness"),
        "/bead/N1-01/settings": ({"extra_name": "volts", "extra_value": "many"}, "extra_value"),
        "/piece/N1-01-B/place": ({"place": "drawer 9", "state": "melted"}, "state"),
    }
    for path, (typed, field) in forms.items():
        answer = bench.send(path, **typed)
        assert answer.status_code == 422, path
        assert f'id="e-{field}"' in answer.text, path
        shown = {*re.findall(r'value="([^"]*)"', answer.text)}
        assert {value for name, value in typed.items() if name != "state"} <= shown, path


def test_the_second_of_two_people_keeps_what_they_typed_and_may_send_it_again(bench, face: str) -> None:
    bench.send("/piece/N1-01-B/place", place="drawer 4", state="kept", edition="1")
    late = bench.send("/piece/N1-01-B/place", place="shelf 2", state="kept", edition="1")
    assert late.status_code == 409 and 'value="shelf 2"' in late.text and "drawer 4" in late.text
    assert 'name="edition" value="2"' in late.text


def test_what_was_done_is_listed_and_can_be_taken_back(bench) -> None:
    a_bead(bench)
    bench.send("/bead/N1-01/settings", edition="1", seen="spatter")
    page = bench.get("/history?code=N1-01").text
    assert "new: remarks spatter" in page and "it was begun" in page
    number = re.findall(r'name="change" value="(\d+)"', page)[0]
    after = bench.send("/undo", change=number, code="N1-01").text
    assert "no longer: remarks spatter" in after and "(taken back)" in after
    assert all(one["name"] != "remarks" for one in bench.get("/api/things/N1-01").json()["record"]["settings"])
    refused = bench.send("/undo", change=number, code="N1-01")
    assert refused.status_code == 422 and 'role="alert"' in refused.text


def test_older_changes_are_fetched_a_page_at_a_time(bench) -> None:
    for number in range(1, 36):
        bench.client.post("/api/trials", json={"code": f"N{number}"})
    page = bench.get("/history").text
    assert page.count('class="quiet" aria-label') == 30
    before = re.findall(r"before=(\d+)", page)[0]
    part = bench.get(f"/history?before={before}", headers={"hx-request": "true"}).text
    assert part.count("<li>") == 5 and "<html" not in part


def test_the_bin_lists_what_was_put_there_and_gives_it_back_whole(bench, face: str) -> None:
    bench.send("/bin/N1-01-A")
    bench.send("/bin/N1-01")
    page = bench.get("/bin").text
    assert "with 4 things below it" not in page and "N1-01" in page
    assert re.findall(r'name="code" value="([^"]+)"', page) == ["N1-01", "N1-01-A"]
    refused = bench.send("/bin", code="N1-01-A")
    assert refused.status_code == 422 and "bring that back first" in refused.text
    assert bench.send("/bin", code="N1-01").url.path == "/open/N1-01"
    assert re.findall(r'name="code" value="([^"]+)"', bench.get("/bin").text) == ["N1-01-A"]


def test_a_certificate_is_kept_and_a_plate_refers_to_it(bench) -> None:
    a_bead(bench)
    kept = bench.send("/certificates", heat="4711", material="S355", **{"share.C": "0.14", "share.Mn": "1.2 %"},
                      others="Ti=0.02")  # fmt: skip
    assert kept.url.path == "/open/CERT-1"
    held = bench.get("/api/things/CERT-1").json()["record"]
    assert held["composition"] == {"C": 0.14, "Mn": 1.2, "Ti": 0.02}
    bench.send("/bead/N1-01/plates", **{"plate_1.thickness": "5/16 in", "plate_1.certificate": "CERT-1"})
    plate = bench.get("/api/things/N1-01-0").json()["record"]["plates"][0]
    assert (plate["heat"], plate["material"], plate["certificate"]) == ("4711", "S355", "CERT-1")
    assert abs(plate["thickness"] - 25.4 * 5 / 16) < 1e-9
    assert "plates of N1-01" in bench.get("/certificates").text
    wrong = bench.send("/bead/N1-01/plates", **{"plate_1.heat": "999", "plate_1.certificate": "CERT-1"})
    assert wrong.status_code == 422 and "one of the two is wrong" in wrong.text


def test_pieces_stand_by_their_place_with_what_they_met(bench, face: str) -> None:
    bench.send("/piece/N1-01-B/place", place="drawer 4", state="kept")
    page = bench.get("/places").text
    there = page[page.index("<h2>Drawer 4</h2>") :]
    assert there.index("N1-01-B") < there.index("N1-01-A")  # the other half is named beside it
    narrowed = bench.get("/places?q=drawer", headers={"hx-request": "true"}).text
    assert "1 piece with" in narrowed and "<html" not in narrowed
    bench.send("/piece/N1-01-B/place", place="drawer 4", state="lost")
    assert "<h2>Lost</h2>" in bench.get("/places").text


def test_while_a_word_is_typed_a_short_list_comes_and_a_code_opens(bench) -> None:
    a_bead(bench)
    part = bench.get("/find?q=n1-01", headers={"hx-request": "true"}).text
    assert 'href="/open/N1-01"' in part and "<html" not in part
    assert bench.get("/find?q=n1-01").url.path == "/open/N1-01"
    assert "volts=18..20V" in bench.get("/find").text
