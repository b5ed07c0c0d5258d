"""`etchbook prepare` and `etchbook cuts` at the keyboard."""

import json
from pathlib import Path

import pytest

from .conftest import Ask

COUPON = ("--joint", "tee", "--width", "150", "--thickness-1", "8", "--thickness-2", "6", "--prove", "iso-15614-1")


def test_prepare_prints_the_steps_and_keeps_the_card(ask: Ask, tmp_path: Path) -> None:
    card = tmp_path / "card.pdf"
    answer = ask("prepare", "haz", "--cut", "disc", "--pdf", card, "--piece", "N1-03-C")
    assert answer.code == 0 and "[ ] 2. Grind flat, P180" in answer.out and f"kept: {card}" in answer.out
    assert card.read_bytes().startswith(b"%PDF")


def test_prepare_as_json_prints_json_alone(ask: Ask) -> None:
    held = json.loads(ask("prepare", "line", "--json", "-").out)
    assert held["want"] == "line" and held["recipes"][0]["id"] == "nital"


def test_prepare_lists_what_can_be_asked_for(ask: Ask) -> None:
    told = ask("prepare", "--list").out
    for word in ("outline", "aluminium", "flame", "epoxy", "persulfate"):
        assert f"\t{word}\t" in told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--etchant", "nital 15 %"), "above 10 % such mixtures can explode"),
        (("--etchant", "Keller's"), "hydrofluoric acid"),
        (("--material", "wood"), "no material"),
        (("--volume", "500", "--etchant", "nital"), "must be 5 to 100 mL"),
    ],
)
def test_prepare_refuses_with_one_sentence_and_keeps_nothing(
    ask: Ask, tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    answer = ask("prepare", "outline", *words, "--pdf", tmp_path / "card.pdf")
    assert answer.code == 2 and told in answer.err and answer.err.count("\n") == 1 and answer.out == ""
    assert list(tmp_path.iterdir()) == []


def test_prepare_without_a_wish_says_what_can_be_wished_for(ask: Ask) -> None:
    answer = ask("prepare", "--cut", "saw")
    assert answer.code == 2 and "outline" in answer.err


def test_cuts_keeps_sheet_drawing_and_plan(ask: Ask, tmp_path: Path) -> None:
    places = [tmp_path / name for name in ("cuts.json", "cuts.pdf", "cuts.svg")]
    answer = ask(
        "cuts", "N1-03", "--length", "300", *COUPON, "--json", places[0], "--pdf", places[1], "--svg", places[2]
    )
    assert answer.code == 0 and "N1-03-C" in answer.out
    assert len(json.loads(places[0].read_text(encoding="utf-8"))["sections"]) == 2
    assert places[1].read_bytes().startswith(b"%PDF") and places[2].read_text(encoding="utf-8").startswith("<svg")


def test_a_coupon_that_is_too_short_is_one_sentence_and_leaves_nothing(ask: Ask, tmp_path: Path) -> None:
    answer = ask("cuts", "N1-03", "--length", "100", *COUPON, "--pdf", tmp_path / "cuts.pdf")
    assert answer.code == 2 and "too short" in answer.err and "at least 110 mm" in answer.err
    assert answer.err.count("\n") == 1 and list(tmp_path.iterdir()) == []


def test_two_pages_never_fall_on_each_other(ask: Ask, tmp_path: Path) -> None:
    same = tmp_path / "one.pdf"
    answer = ask("cuts", "N1-03", "--length", "300", *COUPON, "--pdf", same, "--svg", same)
    assert answer.code == 2 and "two files would be written" in answer.err and not same.exists()
    answer = ask("prepare", "haz", "--pdf", same, "--json", same)
    assert answer.code == 2 and "two files would be written" in answer.err and not same.exists()


def test_cuts_out_of_a_file_with_options_on_top(ask: Ask, tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text(
        'coupon = "N1-04"\njoint = "lap"\nlength = "12 in"\nwidth = 100\n'
        'thickness_1 = 8\nprove = "asme-ix:procedure"\n',
        encoding="utf-8",
    )
    held = json.loads(ask("cuts", plan, "--kerf", "1.5", "--json", "-").out)
    assert len(held["sections"]) == 5 and held["wish"]["kerf"] == 1.5 and held["wish"]["coupon"] == "N1-04"
