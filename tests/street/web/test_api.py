"""The JSON verbs."""

from etchbook.simulate import PaintedSection


def test_lists_come_a_page_at_a_time_and_none_twice(bench) -> None:
    for number in range(1, 8):
        assert bench.client.post("/api/trials", json={"code": f"N{number}"}).status_code == 201
    seen, after = [], ""
    while True:
        page = bench.get("/api/things", params={"limit": 3, "after": after}).json()
        seen += [one["code"] for one in page["items"]]
        after = page["next"]
        if not after:
            break
    assert seen == [f"N{number}" for number in range(1, 8)]


def test_types_are_strict_and_unknown_fields_are_refused(bench) -> None:
    for body in ({"code": 7}, {"colour": "red"}, {"joint": {"family": "tee", "thickness_1": "8"}},
                 {"joint": {"family": "tee", "thickness_1": -8.0}}, {"joint": {"family": "knee"}}):  # fmt: skip
        answer = bench.client.post("/api/trials", json=body)
        assert answer.status_code == 422 and len(answer.json()["error"]) > 10
    assert bench.get("/api/things").json()["items"] == []


def test_a_bead_is_logged_with_units_as_people_type_them(bench) -> None:
    bench.client.post("/api/trials", json={"code": "N1"})
    settings = [{"name": "travel", "value": "30 cm/min"}, {"name": "amps", "value": "150±3 A", "origin": "read"}]
    made = bench.client.post("/api/trials/N1/beads", json={"settings": settings})
    assert made.status_code == 201 and made.json()["code"] == "N1-01"
    held = {one["name"]: one for one in made.json()["record"]["settings"]}
    assert held["travel"]["value"] == 5.0 and held["amps"]["u"] == 3.0


def test_an_upload_that_is_sent_twice_is_one_job(bench, face: str, painted: tuple[PaintedSection, bytes]) -> None:
    _, photo = painted
    sent = [
        bench.client.post(f"/api/faces/{face}/pictures", files={"photo": ("w.png", photo, "image/png")},
                          headers={"idempotency-key": "phone-1"}).json()
        for _ in range(2)
    ]  # fmt: skip
    assert sent[0]["id"] == sent[1]["id"]
    bench.client.delete(f"/api/jobs/{sent[0]['id']}")
    assert bench.wait(sent[0]["id"])["state"] in ("stopped", "done")


def test_the_description_has_examples_and_an_error_for_every_verb(bench) -> None:
    described = bench.get("/api/openapi.json").json()
    assert described["components"]["schemas"]["TrialGiven"]["example"]["code"] == "N7"
    for path, verbs in described["paths"].items():
        assert path.startswith("/api/")
        for verb in verbs.values():
            assert "422" in verb["responses"] and verb["description"]
