"""Deciding a planned trial by its locked rule, and what an unplanned stop leaves."""

from collections.abc import Mapping
from dataclasses import dataclass

from etchbook.quantity import Measured
from etchbook.trials.difference import Difference, difference
from etchbook.trials.planning import Plan, lock_of, seal_of
from etchbook.trials.scatter import BeadResponse, Scatter, StatisticsError


@dataclass(frozen=True, kw_only=True, slots=True)
class Decision:
    """What the locked rule says.

    Parameters
    ----------
    answer : "effect", "practically none" or "undecided"
    words : in a sentence
    difference : the numbers behind it
    blocks : whole blocks that counted, of how many planned
    """

    answer: str
    words: str
    difference: Difference
    blocks: tuple[int, int]


def decide(made: Plan, key: Mapping[str, object], results: Mapping[str, Measured], *, stopped: str = "") -> Decision:
    """Decide a trial by the rule that was fixed before it.

    Parameters
    ----------
    made : the plan as it was locked
    key : the opened key
    results : mean of each bead by its code
    stopped : reason of an unplanned stop, written down before any result was seen; "" for a whole trial

    Returns
    -------
    Decision
        StatisticsError where plan or key were changed, or beads are missing without a stop.
    """
    _check(made, key)
    blocks = _whole_blocks(made, results)
    planned = len({run.block for run in made.runs if run.arm})
    if len(blocks) < planned and not stopped:
        raise StatisticsError(
            f"{planned - len(blocks)} of {planned} blocks lack a bead: weld them, or say why the trial was stopped"
        )
    if len(blocks) < 2:
        raise StatisticsError("fewer than two whole blocks are left, which decide nothing")
    a, b = _groups(made, results, blocks)
    scatter = _scatter(made)
    found = difference(a, b, scatter=scatter, margin=made.rule.none_within)
    answer, words = _answer(made, found)
    short = f" Stopped early ({stopped}): {len(blocks)} of {planned} blocks count." if stopped else ""
    return Decision(answer=answer, words=words + short, difference=found, blocks=(len(blocks), planned))


def _check(made: Plan, key: Mapping[str, object]) -> None:
    if lock_of(made.wish, made.runs, made.rule) != made.lock:
        raise StatisticsError("the plan is not as it was locked: its question, order or rule has been changed")
    if seal_of(key) != made.seal:
        raise StatisticsError("the key is not the one that was sealed with this plan")


def _whole_blocks(made: Plan, results: Mapping[str, Measured]) -> list[int]:
    known = {run.code for run in made.runs if run.code}
    strange = sorted(set(results) - known)
    if strange:
        raise StatisticsError(f'"{strange[0]}" is no bead of this trial')
    lost = {run.block for run in made.runs if run.code and run.code not in results}
    return sorted({run.block for run in made.runs if run.arm} - lost)


def _groups(
    made: Plan, results: Mapping[str, Measured], blocks: list[int]
) -> tuple[list[BeadResponse], list[BeadResponse]]:
    """Both arms; with a reference cylinder the differences within blocks, before and after."""
    counted = [run for run in made.runs if run.arm and run.block in blocks]
    if made.wish.kind == "two arms":
        sides = [[run for run in counted if run.arm == arm] for arm in made.wish.arms]
        beads = [[_bead(run.code, results[run.code], run.number) for run in side] for side in sides]
        return beads[0], beads[1]
    phases: dict[int, list[BeadResponse]] = {1: [], 2: []}
    for block in blocks:
        pair = {run.arm: run for run in counted if run.block == block}
        suspect, reference = (pair[arm] for arm in made.wish.arms)
        left, right = results[suspect.code], results[reference.code]
        apart = Measured(value=left.value - right.value, u=(left.u**2 + right.u**2) ** 0.5, unit=left.unit)
        phases[suspect.phase].append(_bead(f"block {block}", apart, suspect.number))
    if not all(phases.values()):
        raise StatisticsError("both phases need a whole block")
    return phases[1], phases[2]


def _bead(code: str, value: Measured, order: int) -> BeadResponse:
    return BeadResponse(code=code, sections=((value,),), order=order)


def _scatter(made: Plan) -> Scatter:
    known = made.wish.scatter
    grown = known.sd * (1.0 if made.wish.kind == "two arms" else 2**0.5)
    return Scatter(sd=grown, dof=known.dof, source=known.source)


def _answer(made: Plan, found: Difference) -> tuple[str, str]:
    rule = made.rule
    interval = next(view for view in found.views if view.name == "with prior")
    told = f"difference {found.value:+.2f}, 95 % interval {interval.low:+.2f} to {interval.high:+.2f}"
    if interval.excludes_none and abs(found.value) > rule.shown_beyond:
        return "effect", f"Effect by the locked rule: {told}, larger than {rule.shown_beyond:g}."
    if found.inside > rule.none_chance:
        return "practically none", f"Practically none by the locked rule: {told}, within ±{rule.none_within:g}."
    return "undecided", f"Undecided by the locked rule: {told}. As many beads again would be needed."
