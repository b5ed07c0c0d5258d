"""The packaged table of dark lines, held to the source table (line_evidence.csv, as it was handed over)."""

import csv
from pathlib import Path

import pytest

from etchbook.tables.packaged import packaged

SOURCE = list(csv.DictReader((Path(__file__).parent / "line_evidence.csv").read_text(encoding="utf-8").splitlines()))
STATES = {
    state["row"]: (row, state)
    for row in packaged("evidence-lines")["observation"]
    for state in row["state"]
    if state.get("row", "ours") != "ours"
}


@pytest.mark.parametrize("row", SOURCE, ids=[row["row"] for row in SOURCE])
def test_every_row_of_the_source_is_there_with_its_group_and_its_signs(row):
    if row["row"] == "40":  # its second half, continuous casting, stands as a neutral answer of its own
        states = packaged("evidence-lines")["observation"]
        made = next(item for item in states if item["id"] == "steel_made")
        group, signs = made["group"], made["state"][0]["ratios"].split()
    else:
        observation, state = STATES[row["row"]]
        group, signs = observation["group"], state["ratios"].split()
    assert group == row["group"]
    assert signs[:13] == [row[letter] for letter in "ABCDEFGHIJKLM"]
    assert signs[13:] == ["0"]  # "something else" is spoken for by nothing


def test_every_row_tells_its_source_and_how_it_is_known():
    for _, state in STATES.values():
        assert state["source"].startswith(("research note", "ours")) and state["status"] in (
            "seen",
            "from memory",
            "common practice",
        )


def test_priors_of_a_place_sum_to_one():
    for gate in packaged("evidence-lines")["gate"]:
        assert sum(gate["priors"].values()) == pytest.approx(1, abs=0.006), gate["id"]
