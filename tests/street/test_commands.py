"""The commands as a person uses them."""

import json
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.terms import DIMENSIONS, dimensions_of

from .conftest import Ask


def test_terms_lists_every_dimension(ask: Ask) -> None:
    answer = ask("terms")
    assert answer.code == 0
    told = {line.split("\t")[0] for line in answer.out.splitlines()}
    assert set(DIMENSIONS) <= told


def test_terms_of_one_joint(ask: Ask) -> None:
    told = json.loads(ask("terms", "--joint", "bead", "--json").out)
    assert [term["id"] for term in told] == [term.id for term in dimensions_of("bead")]


def test_limits_names_what_against_takes(ask: Ask) -> None:
    names = {row["name"] for row in json.loads(ask("limits", "--json").out)}
    assert {"iso-5817:B", "iso-5817:C", "iso-5817:D"} <= names


def test_check_rows_all_agree_and_name_their_source(ask: Ask) -> None:
    answer = ask("check", "--json")
    rows = json.loads(answer.out)
    assert answer.code == 0 and len(rows) >= 30
    assert {row["agrees"] for row in rows} == {"yes"}
    assert all(row["source"] and row["status"] in ("seen", "from memory") for row in rows)


def test_painting_twice_gives_the_same_bytes(ask: Ask, tmp_path: Path) -> None:
    words = ("paint", "--joint", "lap", "--seed", "3", "--size", "320x240", "--count", "2", "--out")
    for folder in ("a", "b"):
        assert ask(*words, tmp_path / folder).code == 0
    first, second = (sorted((tmp_path / folder).iterdir()) for folder in ("a", "b"))
    assert len(first) == 6 and [path.name for path in first] == [path.name for path in second]
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]


def test_reading_a_painted_tee_keeps_every_page(ask: Ask, painted: Path, tmp_path: Path) -> None:
    truth = json.loads((painted / "tee_00005.truth.json").read_text())
    out = {
        "json": tmp_path / "r.json",
        "regions": tmp_path / "r.png",
        "overlay": tmp_path / "look.svg",
        "pdf": tmp_path / "r.pdf",
        "html": tmp_path / "r.html",
        "csv": tmp_path / "r.csv",
    }
    words = [word for kind, path in out.items() for word in (f"--{kind}", path)]
    answer = ask(
        "read", painted / "tee_00005.png", "--joint", "tee", "--scale", truth["px_per_mm"],
        "--against", "iso-5817:B", "--specimen", "N1 <3>", *words,
    )  # fmt: skip
    assert answer.code == 0, answer.err
    document = json.loads(out["json"].read_text())
    assert list(document["dimensions"]) == [term.id for term in dimensions_of("tee")]
    assert document["judgement"] is not None
    assert document["scale"]["px_per_mm"] == pytest.approx(truth["px_per_mm"], rel=1e-3)
    regions = np.asarray(Image.open(out["regions"]))
    assert regions.shape == (480, 640) and regions.dtype == np.uint8 and set(np.unique(regions)) <= {0, 1, 2, 3}
    assert out["pdf"].read_bytes().startswith(b"%PDF-")
    page = out["html"].read_text()
    assert "N1 &lt;3&gt;" in page and "N1 <3>" not in page
    assert "<svg" in out["overlay"].read_text()
    assert "leg_1" in out["csv"].read_text() and "leg_1" in answer.out

    again = ask("judge", out["json"], "--against", "iso-5817:D", "--json", "-")
    assert json.loads(again.out)["judgement"] is not None


def test_without_a_scale_lengths_are_absent_with_the_reason(ask: Ask, painted: Path) -> None:
    told = json.loads(ask("read", painted / "tee_00005.png", "--joint", "tee", "--json", "-").out)
    if "absent" in told["scale"]:
        assert "scale" in told["dimensions"]["leg_1"]["absent"]
    else:  # the painter put a rule in the picture and it was found
        assert told["scale"]["from"] == "rule"


def test_without_a_joint_one_is_proposed_and_said(ask: Ask, painted: Path) -> None:
    told = json.loads(ask("read", painted / "tee_00005.png", "--scale", "30", "--json", "-").out)
    assert any("joint was not given" in note for note in told["notes"])


def test_a_picture_with_no_weld_is_no_error(ask: Ask, noise: Path) -> None:
    answer = ask("read", noise, "--joint", "tee", "--scale", "30", "--json", "-")
    assert answer.code == 0, answer.err
    dimensions = json.loads(answer.out)["dimensions"]
    assert dimensions and all(held["absent"] for held in dimensions.values())


def test_one_bad_photo_does_not_keep_the_others(ask: Ask, painted: Path, noise: Path, tmp_path: Path) -> None:
    photos = (painted / "tee_00005.png", tmp_path / "missing.jpg", noise)
    answer = ask("read", *photos, "--joint", "tee", "--scale", "30", "--json", tmp_path / "{name}.json")
    assert answer.code == 2 and "missing.jpg" in answer.err
    assert (tmp_path / "tee_00005.json").exists() and (tmp_path / "bench.json").exists()


def test_an_example_holds_photo_regions_marks_and_reading(ask: Ask, painted: Path, tmp_path: Path) -> None:
    photo = painted / "tee_00005.png"
    answer = ask("read", photo, "--joint", "tee", "--scale", "30", "--save-example", tmp_path / "examples")
    assert answer.code == 0, answer.err
    names = {path.name for path in (tmp_path / "examples" / "tee_00005").iterdir()}
    assert {"regions.png", "marks.json", "reading.json"} < names
    kept = next(path for path in (tmp_path / "examples" / "tee_00005").iterdir() if path.stem == "photo")
    assert kept.read_bytes() == photo.read_bytes()


def test_a_fault_of_ours_is_one_sentence(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    import etchbook.terms

    monkeypatch.setattr(etchbook.terms, "DIMENSIONS", None)
    answer = ask("terms")
    assert answer.code == 1 and "report it" in answer.err and len(answer.err.strip().splitlines()) == 1


def test_help_comes_at_once() -> None:
    command = [sys.executable, "-m", "etchbook", "--help"]
    times = []
    for _ in range(3):
        start = time.perf_counter()
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        times.append(time.perf_counter() - start)
        assert done.returncode == 0 and "read" in done.stdout
    assert min(times) < 0.5
