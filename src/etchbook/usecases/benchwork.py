"""Bench work in the book: planned pieces entered with their codes, steps ticked off on a face."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from etchbook.preparation import CutPlan, CutWish, PreparationPlan, Step
from etchbook.trials import code_kind
from etchbook.trials.codes import piece_letters, piece_number
from etchbook.trials.records import Face, Piece
from etchbook.trials.records import Step as DoneStep
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.faces import prepare_face
from etchbook.usecases.keeping.pieces import cut
from etchbook.usecases.keeping.ports import BookStore, Hand

PLANNED = "planned, not sawn yet"
ALL = "all"
KINDS = {
    "saw": "cut",
    "mount": "mount",
    "grind": "grind",
    "polish": "polish",
    "clean": "rinse",
    "etch": "etch",
    "stop": "rinse",
}
"""What the book calls a kind of step; every other kind is "other"."""


def with_free_letters(store: BookStore, wish: CutWish) -> CutWish:
    """The wish with the first letter that no piece of this bead has had yet."""
    taken = [code.rpartition("-")[2] for code in store.taken(wish.coupon) if code_kind(code) == "piece"]
    return replace(wish, first=piece_letters(1 + max(map(piece_number, taken), default=-1)))


def enter_cuts(store: BookStore, hand: Hand, plan: CutPlan) -> tuple[Piece, ...]:
    """Enter the pieces of a plan into the book before the saw runs; their place says that they are planned.

    Parameters
    ----------
    plan : made for the letters that are free, see `with_free_letters`

    Returns
    -------
    tuple of Piece
        With the codes of the plan, each with what it faces across the cuts.
    """
    codes = [piece.code for piece in plan.pieces]
    if with_free_letters(store, plan.wish).first != plan.pieces[0].letter:
        raise RefusedError(f"{codes[0]} is not the next free code of {plan.wish.coupon}: plan the cuts again")
    return cut(store, hand, plan.wish.coupon, at=plan.at, kerf=plan.wish.kerf, place=PLANNED)


def done_step(step: Step, hand: Hand, plan: PreparationPlan, seconds: float | None = None) -> DoneStep:
    """A planned step as the book keeps it once it is done; its id stands in the remarks.

    Parameters
    ----------
    step : of the plan
    hand : who did it, and when
    seconds : how long it took [s], where it was taken
    """
    names = {recipe.id: recipe.title for recipe in plan.recipes}
    return DoneStep(
        kind=KINDS.get(step.kind, "other"),
        grit=step.grit if step.kind == "grind" else "",
        polish=step.grit if step.kind == "polish" else "",
        etchant=names.get(step.etchant, "") if step.kind == "etch" else "",
        seconds=seconds,
        by=hand.by,
        at=hand.at,
        remarks=step.id,
    )


def tick_off(
    store: BookStore,
    hand: Hand,
    typed: str,
    plan: PreparationPlan,
    done: Mapping[str, float | None],
    *,
    towards: str = "",
) -> tuple[Face, bool]:
    """Tick off steps of a plan on a face of the book.

    Parameters
    ----------
    typed : code of the piece (a new face) or of the face
    done : ids of steps, each with the seconds that it took or None; they land in the order of the plan
    towards : the piece that this face met across the cut

    Returns
    -------
    (Face, bool)
        The face, and whether it is new; RefusedError where the plan has no such step.
    """
    known = {step.id: step for step in plan.steps}
    for name in done:
        if name not in known:
            raise RefusedError(f'this plan has no step "{name}": use {", ".join(known)}, or {ALL}')
    steps = [done_step(step, hand, plan, done[step.id]) for step in plan.steps if step.id in done]
    return prepare_face(store, hand, typed, steps, towards=towards)


def steps_named(words: Sequence[str], plan: PreparationPlan) -> dict[str, str]:
    """Ids of steps, each with the time typed behind it or "": ``all`` stands for every step.

    Parameters
    ----------
    words : such as ``grind_p400``, ``etch=8s`` or ``all``
    """
    named: dict[str, str] = {}
    for word in words:
        name, _, time = word.strip().partition("=")
        if name == ALL:
            named |= {step.id: named.get(step.id, "") for step in plan.steps}
        else:
            named[name] = time
    return named
