"""The JSON verbs."""

import re
from typing import Any

import jsonschema

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


def resolved(schema: Any, whole: dict[str, Any]) -> Any:
    while "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        schema = whole["components"]["schemas"][name]
    return schema


def operations(whole: dict[str, Any]) -> list[tuple[str, str, dict[str, Any]]]:
    return [(path, method, verb) for path, verbs in whole["paths"].items() for method, verb in verbs.items()]


def test_every_verb_has_a_lasting_name_examples_that_fit_and_its_troubles(bench) -> None:
    whole = bench.get("/api/openapi.json").json()
    names = [verb["operationId"] for _, _, verb in operations(whole)]
    assert len(names) > 25 and len(set(names)) == len(names)
    assert all(re.fullmatch("[a-z]+(_[a-z]+)+", name) for name in names)
    for path, method, verb in operations(whole):
        where = f"{method} {path}"
        assert path.startswith("/api/") and verb["description"] and {"401", "422"} <= set(verb["responses"]), where
        for parameter in verb.get("parameters", ()):
            if parameter["in"] == "path" or parameter["required"]:
                assert parameter.get("examples") or parameter["schema"].get("examples"), f"{where} {parameter['name']}"
        for content in (verb.get("requestBody", {"content": {}})["content"], told_well(verb)):
            for kind, media in content.items():
                fits(kind, media, whole, where)


def told_well(verb: dict[str, Any]) -> dict[str, Any]:
    [status] = [status for status in verb["responses"] if status.startswith("2")]
    content: dict[str, Any] = verb["responses"][status]["content"]
    assert content
    return content


def fits(kind: str, media: dict[str, Any], whole: dict[str, Any], where: str) -> None:
    schema = resolved(media["schema"], whole) if "schema" in media else {}
    if kind == "multipart/form-data":
        fields = schema["properties"].values()
        assert all(one.get("examples") for one in fields if "contentMediaType" not in one), where
        return
    example = media.get("example", schema.get("example"))
    assert example is not None, f"{where} shows no example of {kind}"
    if schema:
        found = jsonschema.Draft202012Validator({**schema, "components": whole["components"]})
        assert list(found.iter_errors(example)) == [], where


def test_every_list_comes_a_page_at_a_time(bench) -> None:
    whole = bench.get("/api/openapi.json").json()
    lists = 0
    for path, method, verb in operations(whole):
        if method != "get" or "application/json" not in told_well(verb):
            continue
        schema = resolved(told_well(verb)["application/json"]["schema"], whole)
        assert schema.get("type") == "object", f"{path} answers with a bare list"
        if "items" in schema["properties"]:
            asked = {one["name"] for one in verb["parameters"]}
            assert "limit" in asked and asked & {"after", "before"} and "next" in schema["properties"], path
            lists += 1
    assert lists >= 8


def test_pages_of_every_list_hold_each_thing_once(bench, face: str) -> None:
    for number in range(5):
        bench.client.post("/api/trials/N1/beads", json={"settings": [{"name": "volts", "value": f"{18 + number} V"}]})
    for path in ("things?kind=bead", "things/N1/below?kind=bead", "find?q=volts=17..30V", "limits?x=1"):
        whole = bench.get(f"/api/{path}&limit=500").json()["items"]
        assert len(whole) > 4
        seen, after = [], ""
        for _ in range(len(whole)):
            page = bench.get(f"/api/{path}&limit=2&after={after}").json()
            assert len(page["items"]) <= 2
            seen += page["items"]
            after = page["next"]
            if not after:
                break
        assert seen == whole and after == ""
    numbers, before = [], 0
    while True:
        page = bench.get(f"/api/changes?limit=3&before={before}").json()
        numbers += [one["number"] for one in page["items"]]
        before = page["next"]
        if not before:
            break
    assert numbers == sorted(numbers, reverse=True) and numbers[-1] == 1 and len(set(numbers)) == len(numbers)


def test_what_is_taken_back_and_binned_stands_in_the_history(bench, face: str) -> None:
    made = bench.client.post("/api/trials", json={"code": "N5"}).json()
    newest = bench.get("/api/changes?limit=1").json()["items"][0]
    assert newest["touched"] == [made["code"]]
    undone = bench.client.post(f"/api/changes/{newest['number']}/undo").json()
    assert undone["undoes"] == newest["number"]
    assert bench.client.post("/api/things/N5/back").json()["binned"] == ""
    assert bench.client.post("/api/things/N5/bin").json()["binned"]
    assert bench.client.post("/api/changes/999999/undo").status_code == 404
    stale = bench.client.post("/api/beads/N1-01/settings",
                              json={"edition": 9, "settings": [{"name": "volts", "value": "20 V"}]})  # fmt: skip
    assert stale.status_code == 409
