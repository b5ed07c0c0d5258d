"""Bench work in the book: planned pieces keep the codes of the sheet, ticked steps land on the face."""

from dataclasses import replace

import pytest

from etchbook.preparation import CutWish, PreparationPlan, PrepareWish, plan_cuts, plan_preparation
from etchbook.preparation.cutting import LETTERS
from etchbook.store.memory import MemoryStore
from etchbook.trials import codes
from etchbook.trials.records import Book, Face
from etchbook.usecases import RefusedError
from etchbook.usecases.benchwork import enter_cuts, steps_named, tick_off, with_free_letters
from etchbook.usecases.keeping.beads import keep_trial, log_bead
from etchbook.usecases.keeping.pieces import keep_coupon, whereabouts
from etchbook.usecases.keeping.ports import Hand

HAND = Hand(by="ann", at="2026-03-09T10:00:00+00:00")
WISH = CutWish(
    coupon="N1-01", length=300.0, width=150.0, family="tee", prove="iso-15614-1", thickness_1=8.0
)  # fmt: skip


@pytest.fixture
def store() -> MemoryStore:
    made = MemoryStore(Book(id="0" * 32, name="bay"))
    keep_trial(made, HAND, "N1", "1" * 32, {})
    log_bead(made, HAND, "N1", [])
    keep_coupon(made, HAND, "N1-01", {"length": 300.0})
    return made


@pytest.fixture
def steps() -> PreparationPlan:
    return plan_preparation(PrepareWish(want="line", materials=("steel",), cut="disc"))


def test_the_letters_of_the_sheet_are_those_of_the_book() -> None:
    assert LETTERS == codes.LETTERS
    made = plan_cuts(replace(WISH, first="Z"))
    assert [piece.letter for piece in made.pieces] == [codes.piece_letters(22 + n) for n in range(len(made.pieces))]
    assert plan_cuts(replace(WISH, first="BC")).pieces[1].letter == codes.piece_letters(1 + codes.piece_number("BC"))


def test_planned_pieces_are_in_the_book_with_their_codes_places_and_other_halves(store: MemoryStore) -> None:
    plan = plan_cuts(with_free_letters(store, WISH))
    entered = enter_cuts(store, HAND, plan)
    assert [(one.code, one.start, one.stop) for one in entered] == [
        (piece.code, piece.start, pytest.approx(piece.end)) for piece in plan.pieces
    ]
    for held in plan.sections:
        near = {facing.end: piece.code for facing, piece in whereabouts(store, held.piece).facing}
        assert near[held.side] == held.other_half
    assert {one.place for one in entered} == {"planned, not sawn yet"}


def test_a_plan_for_letters_that_are_taken_is_refused(store: MemoryStore) -> None:
    plan = plan_cuts(WISH)
    enter_cuts(store, HAND, plan)
    assert with_free_letters(store, WISH).first == "H"
    with pytest.raises(RefusedError, match="not the next free code"):
        enter_cuts(store, HAND, plan)


def test_steps_done_land_on_the_face_in_the_order_of_the_plan(store: MemoryStore, steps: PreparationPlan) -> None:
    enter_cuts(store, HAND, plan_cuts(WISH))
    done = {"etch": 8.0, "polish_3_um": None, "grind_p180": None}
    face, new = tick_off(store, HAND, "N1-01-C", steps, done, towards="N1-01-B")
    assert new and isinstance(face, Face) and face.towards == "N1-01-B"
    assert [(one.kind, one.grit, one.polish, one.etchant, one.seconds, one.remarks) for one in face.steps] == [
        ("grind", "P180", "", "", None, "grind_p180"),
        ("polish", "", "3 µm diamond", "", None, "polish_3_um"),
        ("etch", "", "", "Nital 2 %", 8.0, "etch"),
    ]
    more, new = tick_off(store, HAND, face.code, steps, {"stop": None})
    assert not new and more.steps[-1].kind == "rinse" and len(more.steps) == 4


def test_a_step_that_the_plan_has_not_is_refused(store: MemoryStore, steps: PreparationPlan) -> None:
    with pytest.raises(RefusedError, match='no step "sing"'):
        tick_off(store, HAND, "N1-01-C", steps, {"sing": None})


def test_all_stands_for_every_step_and_times_stay(steps: PreparationPlan) -> None:
    named = steps_named(["etch=8s", "all"], steps)
    assert named["etch"] == "8s"
    assert set(named) == {step.id for step in steps.steps}
