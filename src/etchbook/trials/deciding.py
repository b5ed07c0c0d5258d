"""Deciding a planned trial by its locked rule, and what an unplanned stop leaves."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from etchbook.quantity import Measured
from etchbook.trials.covariate import Covaried, at_equal
from etchbook.trials.difference import Difference, View, difference, spoken_p
from etchbook.trials.outlying import grubbs
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
    notes : beads that stand apart from their arm (they were counted), and what was given but not used
    """

    answer: str
    words: str
    difference: Difference
    blocks: tuple[int, int]
    notes: tuple[str, ...] = ()


def decide(
    made: Plan,
    key: Mapping[str, object],
    results: Mapping[str, Measured],
    *,
    covariate: Mapping[str, float] | None = None,
    stopped: str = "",
) -> Decision:
    """Decide a trial by the rule that was fixed before it.

    Parameters
    ----------
    made : the plan as it was locked
    key : the opened key
    results : mean of each bead by its code
    covariate : what the plan named to be measured beside, by code of the bead
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
    beside = _beside(made, covariate or {}, blocks, (a, b))
    if beside is not None:
        found = replace(found, views=(*found.views, _view(made, beside)))
    answer, words = _answer(made, found, beside)
    short = f" Stopped early ({stopped}): {len(blocks)} of {planned} blocks count." if stopped else ""
    notes = (*_odd(made, a, b), *(_unused() if covariate and beside is None else ()))
    return Decision(answer=answer, words=words + short, difference=found, blocks=(len(blocks), planned), notes=notes)


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


def _beside(
    made: Plan, covariate: Mapping[str, float], blocks: list[int], groups: tuple[list[BeadResponse], list[BeadResponse]]
) -> Covaried | None:
    """The difference at an equal covariate, where the plan names one."""
    name = made.wish.covariate
    if not name:
        return None
    counted = [run for run in made.runs if run.arm and run.block in blocks]
    lacking = [run.code for run in counted if run.code not in covariate]
    if lacking:
        raise StatisticsError(
            f"the plan names {name.replace('_', ' ')}, and it is missing for bead {', '.join(lacking[:5])}: "
            "give it with each result"
        )
    held = {code: Measured(value=value, u=0.0, unit="") for code, value in covariate.items()}
    sides = _groups(made, held, blocks)
    pairs = [
        [(along.mean, bead.mean) for along, bead in zip(side, group, strict=True)]
        for side, group in zip(sides, groups, strict=True)
    ]
    return at_equal(pairs[0], pairs[1])


def _view(made: Plan, beside: Covaried) -> View:
    name = made.wish.covariate.replace("_", " ")
    return View(
        name=f"at equal {name}",
        assumes=f"Beads scatter normally, alike in both groups, about one straight line over {name}.",
        words=f"difference {beside.low:+.2f} to {beside.high:+.2f} (95 %), {spoken_p(beside.p)}; "
        f"slope {beside.slope:+.3g} for each unit of {name}.",
        low=beside.low,
        high=beside.high,
        p=beside.p,
    )


def _odd(made: Plan, *groups: list[BeadResponse]) -> Iterator[str]:
    for arm, group in zip(made.wish.arms, groups, strict=True):
        try:
            found = grubbs([bead.mean for bead in group])
        except StatisticsError:
            continue
        if found.p < 0.05:
            bead = group[found.place]
            side = f"of {arm}" if made.wish.kind == "two arms" else "of its phase"
            yield (
                f"{bead.code} stands apart from the others {side}: {bead.mean:.2f} (Grubbs, p = {found.p:.3f}). "
                "It was counted: look at its section and its log again."
            )


def _unused() -> tuple[str, ...]:
    return ("A covariate was given, but the locked rule names none, so it was not used.",)


def _answer(made: Plan, found: Difference, beside: Covaried | None) -> tuple[str, str]:
    rule = made.rule
    interval = found.views[-1] if beside else next(view for view in found.views if view.name == "with prior")
    value, inside = (beside.value, beside.inside(rule.none_within)) if beside else (found.value, found.inside)
    told = f"difference {value:+.2f}, 95 % interval {interval.low:+.2f} to {interval.high:+.2f}"
    if beside:
        told += f" {interval.name}"
    if interval.excludes_none and abs(value) > rule.shown_beyond:
        return "effect", f"Effect by the locked rule: {told}, larger than {rule.shown_beyond:g}."
    if inside > rule.none_chance:
        return "practically none", f"Practically none by the locked rule: {told}, within ±{rule.none_within:g}."
    return "undecided", f"Undecided by the locked rule: {told}. As many beads again would be needed."
