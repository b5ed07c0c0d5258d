"""Plans of cuts: sums along the coupon, codes, other halves, and coupons that are too short."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from etchbook.preparation import CuttingError, CutWish, cut_tests, plan_cuts

USUAL = CutWish(
    coupon="N1-03",
    length=300.0,
    width=150.0,
    family="tee",
    prove="iso-15614-1",
    thickness_1=8.0,
    thickness_2=6.0,
)


def test_a_fillet_for_iso_15614_by_hand() -> None:
    made = plan_cuts(replace(USUAL, at=(90.0, 200.0)))
    assert [(cut.start, cut.end) for cut in made.cuts] == [
        (25, 27),  # end cut off
        (87, 89),  # the section at 90, 1 mm to grind
        (104, 106),  # 15 mm behind it
        (197, 199),
        (214, 216),
        (273, 275),
    ]
    assert [piece.use for piece in made.pieces] == [
        "discard",
        "reserve",
        "section",
        "reserve",
        "section",
        "spare",
        "discard",
    ]
    assert [piece.code for piece in made.pieces] == [f"N1-03-{letter}" for letter in "ABCDEFG"]
    assert [(held.piece, held.side, held.other_half) for held in made.sections] == [
        ("N1-03-C", "start", "N1-03-B"),
        ("N1-03-E", "start", "N1-03-D"),
    ]
    assert made.at == (26, 88, 105, 198, 215, 274)


def test_the_pieces_know_what_faces_them() -> None:
    made = plan_cuts(USUAL)
    for before, after in pairwise(made.pieces):
        assert before.faces_after == after.code and after.faces_before == before.code
    assert made.pieces[0].faces_before == "" and made.pieces[-1].faces_after == ""


lengths = st.floats(60, 600, allow_nan=False)


@given(
    length=lengths,
    sections=st.integers(1, 6),
    kerf=st.floats(0.3, 4),
    thick=st.one_of(st.just(0.0), st.floats(5, 30)),
    discard=st.one_of(st.just(0.0), st.floats(5, 30)),
    stop=st.floats(0.2, 0.8),
)
def test_pieces_and_saw_cuts_add_up_to_the_coupon(
    length: float, sections: int, kerf: float, thick: float, discard: float, stop: float
) -> None:
    wish = replace(
        USUAL,
        prove="own",
        length=length,
        sections=sections,
        kerf=kerf,
        slice=thick,
        discard=discard,
        start_stops=(stop * length,),
    )
    try:
        made = plan_cuts(wish)
    except CuttingError:
        return
    total = sum(piece.length for piece in made.pieces) + sum(cut.end - cut.start for cut in made.cuts)
    assert total == pytest.approx(length, abs=0.02)
    assert all(piece.length > 0 for piece in made.pieces)
    assert all(cut.end - cut.start == pytest.approx(kerf, abs=0.002) for cut in made.cuts)
    assert len(made.sections) == sections and any(held.through_stop for held in made.sections)
    by_code = {piece.code: piece for piece in made.pieces}
    for held in made.sections:
        mine, other = by_code[held.piece], by_code[held.other_half]
        assert mine.use == "section" and mine.face == held.side
        assert held.at - mine.start == pytest.approx(wish.allowance, abs=0.002)
        assert other.length >= wish.reserve - 0.01 or other.use == "section"


@given(st.floats(80, 400))
def test_a_coupon_is_refused_just_when_it_is_shorter_than_what_is_said(length: float) -> None:
    # Two discards of 25, five cuts of 2, two sections of 15 and two halves of 10: 110 mm, worked out by hand.
    wish = replace(USUAL, length=length)
    if length < 110:
        with pytest.raises(CuttingError, match=r"too short.*at least 110 mm"):
            plan_cuts(wish)
    else:
        assert len(plan_cuts(wish).sections) == 2


def test_one_section_goes_through_the_stop_and_start_that_is_told() -> None:
    made = plan_cuts(replace(USUAL, prove="iso-9606-1", start_stops=(140.0,)))
    through = [held for held in made.sections if held.through_stop]
    assert [held.at for held in through] == [140.0] and len(made.sections) == 2


def test_a_welder_test_without_a_told_stop_is_refused() -> None:
    with pytest.raises(CuttingError, match="stop and start: say where it lies"):
        plan_cuts(replace(USUAL, prove="iso-9606-1"))


def test_a_stop_in_the_discarded_end_cannot_be_cut() -> None:
    with pytest.raises(CuttingError, match="a section at 20 mm cannot be cut"):
        plan_cuts(replace(USUAL, prove="iso-9606-1", start_stops=(20.0,)))


def test_a_butt_weld_for_iso_15614_has_its_section_at_the_end() -> None:
    made = plan_cuts(replace(USUAL, family="butt"))
    assert len(made.sections) == 1
    assert made.pieces[-1].use == "discard" and made.pieces[-2].use == "section"


def test_the_performance_test_of_asme_reads_the_cut_end_of_an_end_piece() -> None:
    made = plan_cuts(replace(USUAL, prove="asme-ix:performance", length=160.0))
    assert [piece.use for piece in made.pieces] == ["section", "test", "spare"]
    assert made.pieces[0].length == 25 and made.pieces[0].face == "stop" and made.pieces[1].length >= 100
    assert made.sections[0].other_half == made.pieces[1].code


def test_without_a_back_cut_each_section_costs_one_cut() -> None:
    made = plan_cuts(replace(USUAL, prove="own", slice=0.0, sections=1, discard=0.0, length=60.0))
    assert [piece.use for piece in made.pieces] == ["reserve", "section"] and len(made.cuts) == 1


def test_letters_skip_those_that_are_misread_and_may_begin_later() -> None:
    made = plan_cuts(replace(USUAL, prove="asme-ix:procedure", first="G"))
    letters = [piece.letter for piece in made.pieces]
    assert letters[:4] == ["G", "H", "J", "K"] and not {"I", "O", "Q"} & set(letters)
    assert letters[-1] == "V"
    late = plan_cuts(replace(USUAL, first="Y"))
    assert [piece.letter for piece in late.pieces] == ["Y", "Z", "AA", "AB", "AC", "AD", "AE"]


def test_a_rule_may_be_gone_beyond_but_not_short_of() -> None:
    assert len(plan_cuts(replace(USUAL, sections=4)).sections) == 4
    assert plan_cuts(replace(USUAL, discard=30.0)).pieces[0].length == 30
    with pytest.raises(CuttingError, match="asks for 2 sections, not 1"):
        plan_cuts(replace(USUAL, sections=1))
    with pytest.raises(CuttingError, match="discards 25 mm at each end, not 10 mm"):
        plan_cuts(replace(USUAL, discard=10.0))


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"prove": "asme-ix"}, "no test that cuts are planned for"),
        ({"prove": "asme-ix:procedure", "family": "butt"}, "no number of sections is known here"),
        ({"length": 0.0}, "length must be above 0"),
        ({"length": float("nan")}, "length must be above 0"),
        ({"thickness_1": -1.0}, "thickness_1 must be above 0"),
        ({"kerf": 0.0}, "kerf must be above 0"),
        ({"slice": 0.5}, "would be ground away"),
        ({"coupon": "third bead"}, "no code of a bead"),
        ({"coupon": "O1-03"}, "no code of a bead"),
        ({"first": "?"}, "no letter"),
        ({"at": (400.0,)}, "does not lie on a coupon"),
        ({"at": (100.0, 110.0)}, "lie too close"),
        ({"at": (60.0, 120.0, 200.0)}, "3 places are told for 2 sections"),
        ({"sections": 99}, "1 to 12 sections"),
        ({"prove": "asme-ix:performance", "length": 120.0}, "too short"),
        ({"prove": "asme-ix:performance", "sections": 2}, "one section at the cut end"),
    ],
)
def test_what_cannot_be_cut_is_said_in_one_sentence(given: dict[str, object], told: str) -> None:
    with pytest.raises(CuttingError, match=told) as error:
        plan_cuts(replace(USUAL, **given))  # type: ignore[arg-type]
    assert "\n" not in str(error.value)


def test_every_rule_says_where_it_stands() -> None:
    assert set(cut_tests()) == {"iso-15614-1", "iso-9606-1", "asme-ix:procedure", "asme-ix:performance", "own"}
    for prove in cut_tests():
        rule = plan_cuts(replace(USUAL, prove=prove, start_stops=(150.0,))).rule
        assert all(item.source and item.status for item in rule.known)
