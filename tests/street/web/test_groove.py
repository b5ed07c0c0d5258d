"""The preparation of a butt joint at the bench: by hand and by program."""


def test_a_trial_is_begun_with_the_preparation_of_its_joint(bench) -> None:
    bench.send("/trial/new", code="N1", joint="butt", gap="2±0.2 mm", groove_angle="60", root_face="1 mm")
    groove = bench.get("/api/things/N1").json()["record"]["joint"]["groove"]
    assert groove == {"gap": 2.0, "u_gap": 0.2, "angle": 60.0, "u_angle": None, "root_face": 1.0,
                      "u_root_face": None, "bevelled": "both"}  # fmt: skip
    assert "groove angle 60°, root face 1 mm, root gap 2 mm" in bench.get("/open/N1").text


def test_what_makes_no_sense_is_told_beside_the_field(bench) -> None:
    answer = bench.send("/trial/new", code="N2", joint="tee", gap="2 mm")
    assert answer.status_code == 422 and "preparation of a butt joint" in answer.text
    answer = bench.send("/trial/new", code="N2", joint="butt", gap="2")
    assert answer.status_code == 422 and "needs its unit" in answer.text
    assert bench.get("/api/things/N2").status_code == 404


def test_a_program_states_it_as_numbers(bench) -> None:
    joint = {"family": "butt", "groove": {"gap": 0.0, "angle": 45.0, "root_face": 0.0, "bevelled": "1"}}
    made = bench.client.post("/api/trials", json={"code": "N3", "joint": joint})
    assert made.status_code == 201 and made.json()["record"]["joint"]["groove"]["bevelled"] == "1"
    for spoiled in ({"gap": -1.0}, {"gap": "2"}, {"bevelled": "left"}, {"angle": 0.0, "root_face": 1.0}):
        joint = {"family": "butt", "groove": spoiled}
        assert bench.client.post("/api/trials", json={"code": "N4", "joint": joint}).status_code == 422
    tee = {"family": "tee", "groove": {"gap": 1.0}}
    assert bench.client.post("/api/trials", json={"code": "N4", "joint": tee}).status_code == 422
