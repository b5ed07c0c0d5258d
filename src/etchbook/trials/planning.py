"""A trial that can prove something: its question, size, order, codes and rule, fixed before the first bead."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from etchbook.trials.scatter import Scatter, StatisticsError
from etchbook.trials.sizing import (
    POWER,
    beads_per_arm,
    blocks_per_phase,
    least_ratio,
    power_two_groups,
)

Kind = Literal["two arms", "reference cylinder"]
LETTERS = "ACDEFHJKLMNPRTUVWXY34679"
"""Signs that are not mistaken for each other when chalked on a hot coupon."""
PLANNING_SD: Mapping[str, float] = {"mechanised": 0.16, "hand": 0.28}
"""Scatter of convexity from bead to bead [mm] for planning: the only published figure (six beads), and a judged one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Wish:
    """What a person wants to find out.

    Parameters
    ----------
    question : in their words
    response : what is measured: id of a dimension
    worth : smallest difference worth knowing [unit of the response]
    scatter : from bead to bead
    arms : the two things compared; with a reference cylinder: suspect and reference
    kind : "two arms", or "reference cylinder" for a change that cannot be undone
    margin : an effect is claimed beyond this, and none within it; two thirds of `worth` where None, so that a true
        difference of `worth` is not missed half the time
    held : settings that are held fast, with their values
    warm_up : beads that are welded first and thrown away
    sections : cuts to a bead
    power : wanted chance of showing a difference of `worth`, at a chance of 5 % of a false alarm
    seed : of the order; the same seed gives the same order
    secret : what the codes are drawn from; kept in the sealed key alone
    beads : beads in each arm (blocks in each phase); reckoned where None
    covariate : a setting measured on every bead, such as start_temperature, whose part is taken out in the decision
    """

    question: str
    response: str
    worth: float
    scatter: Scatter
    arms: tuple[str, str]
    kind: Kind = "two arms"
    margin: float | None = None
    held: Mapping[str, str] | None = None
    warm_up: int = 3
    sections: int = 2
    power: float = POWER
    seed: int = 0
    secret: str = ""
    beads: int | None = None
    covariate: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """One bead of the run sheet.

    Parameters
    ----------
    number : in the order of welding
    code : what the coupon is marked with, which tells nothing; "" for a warm-up bead
    arm : which of the arms; "" for a warm-up bead
    block, phase : number of the block, and of the phase (1 before, 2 after)
    """

    number: int
    code: str
    arm: str
    block: int
    phase: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """The rule by which the trial is decided, fixed before the first bead.

    Parameters
    ----------
    shown_beyond : an effect is claimed where the 95 % interval leaves 0 out and the difference is larger than this
    none_within, none_chance : practically none where the chance of lying within ± that is above this
    looks : how often the results may be looked at: once, at the end
    words : the same in sentences
    """

    shown_beyond: float
    none_within: float
    none_chance: float
    looks: int
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """A planned trial.

    Parameters
    ----------
    per_arm : beads in each arm, or blocks in each phase
    power : exact chance of showing a difference of `wish.worth`
    runs : every bead in its order, warm-up first
    rule : how it is decided
    lock : SHA-256 of question, order and rule: a plan that was changed has another
    seal : SHA-256 of the key, printed on the run sheet so that a changed key is found out
    notes : what to know
    """

    wish: Wish
    per_arm: int
    power: float
    runs: tuple[Run, ...]
    rule: Rule
    lock: str
    seal: str
    notes: tuple[str, ...]

    @property
    def key(self) -> dict[str, object]:
        """The key to be sealed."""
        return key_of(self.runs, self.wish)

    @property
    def beads(self) -> int:
        """How many beads count, without the warm-up."""
        return sum(bool(run.arm) for run in self.runs)


def plan(wish: Wish) -> Plan:
    """Plan a trial: size by exact power, randomised order, blinding codes, locked rule.

    Parameters
    ----------
    wish : what is to be found out

    Returns
    -------
    Plan
        The same wish gives the same plan to the letter.

    Source: research note 6b and 6c.
    """
    _look_over(wish)
    per_arm = wish.beads or _size(wish)
    order = _two_arms(wish, per_arm) if wish.kind == "two arms" else _reference(wish, per_arm)
    codes = _codes(wish, len(order))
    warm = [Run(number=n + 1, code="", arm="", block=0, phase=1) for n in range(wish.warm_up)]
    runs = (*warm, *_numbered(order, codes, wish.warm_up))
    rule = _rule(wish)
    return Plan(
        wish=wish,
        per_arm=per_arm,
        power=_power_of(wish, per_arm),
        runs=runs,
        rule=rule,
        lock=lock_of(wish, runs, rule),
        seal=seal_of(key_of(runs, wish)),
        notes=_notes(wish, per_arm),
    )


def key_of(runs: tuple[Run, ...], wish: Wish) -> dict[str, object]:
    """The sealed key: which code is which arm, with the secret of the codes and the seed of the order."""
    codes = {run.code: {"arm": run.arm, "block": run.block, "phase": run.phase} for run in runs if run.code}
    return {"codes": codes, "secret": wish.secret, "seed": wish.seed}


def seal_of(key: Mapping[str, object]) -> str:
    """SHA-256 of a key as canonical JSON."""
    return _digest(key)


def lock_of(wish: Wish, runs: tuple[Run, ...], rule: Rule) -> str:
    """SHA-256 over question, response, size and rule; the order in it without its arms, so that it gives none away."""
    held = {
        "question": wish.question,
        "response": wish.response,
        "worth": wish.worth,
        "kind": wish.kind,
        "scatter": [wish.scatter.sd, str(wish.scatter.dof), wish.scatter.source],
        "codes": [run.code for run in runs],
        "rule": rule.words,
        "figures": [rule.shown_beyond, rule.none_within, rule.none_chance, rule.looks],
        **({"covariate": wish.covariate} if wish.covariate else {}),
    }
    return _digest(held)


def _digest(held: Mapping[str, object]) -> str:
    return hashlib.sha256(json.dumps(held, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


def _look_over(wish: Wish) -> None:
    if not wish.question.strip():
        raise StatisticsError("a trial needs a question: what is it to answer?")
    if len(set(wish.arms)) != 2 or not all(arm.strip() for arm in wish.arms):
        raise StatisticsError(f"two different arms are needed, not {' and '.join(wish.arms) or 'none'}")
    if not 0 <= wish.warm_up <= 20:
        raise StatisticsError(f"warm-up beads lie between 0 and 20, not at {wish.warm_up}")
    if not 1 <= wish.sections <= 20:
        raise StatisticsError(f"sections to a bead lie between 1 and 20, not at {wish.sections}")
    if wish.beads is not None and not 2 <= wish.beads <= 400:
        raise StatisticsError(f"a trial has 2 to 400 beads an arm, not {wish.beads}")
    if not 0 < wish.power < 1:
        raise StatisticsError(f"the power lies between 0 and 1, not at {wish.power:g}")
    if not 0 < _margin(wish) < wish.worth:
        raise StatisticsError(
            f"the margin lies between 0 and the smallest difference worth knowing ({wish.worth:g}), "
            f"not at {_margin(wish):g}"
        )


def _margin(wish: Wish) -> float:
    return wish.margin if wish.margin is not None else float(f"{wish.worth * 2 / 3:.3g}")


def _size(wish: Wish) -> int:
    size = beads_per_arm if wish.kind == "two arms" else blocks_per_phase
    return size(wish.scatter.sd, wish.worth, power=wish.power)


def _power_of(wish: Wish, per_arm: int) -> float:
    spread = wish.scatter.sd * (1.0 if wish.kind == "two arms" else 2**0.5)
    return power_two_groups(per_arm, wish.worth / spread)


def _two_arms(wish: Wish, per_arm: int) -> list[tuple[str, int, int]]:
    """Blocks of one of each, shuffled within, so that slow drift falls on both arms alike."""
    draw = np.random.default_rng(wish.seed)
    return [(wish.arms[side], block + 1, 1) for block in range(per_arm) for side in draw.permutation(2)]


def _reference(wish: Wish, per_phase: int) -> list[tuple[str, int, int]]:
    draw = np.random.default_rng(wish.seed)
    blocks = [(block, 1 if block < per_phase else 2) for block in range(2 * per_phase)]
    return [(wish.arms[side], block + 1, phase) for block, phase in blocks for side in draw.permutation(2)]


def _codes(wish: Wish, count: int) -> list[str]:
    """Codes of three signs that tell nothing; drawn from the secret, not from the seed that is printed."""
    start = int.from_bytes(hashlib.sha256(f"{wish.secret}|{wish.seed}".encode()).digest()[:8], "big")
    draw = np.random.default_rng(start)
    places = draw.choice(len(LETTERS) ** 3, size=count, replace=False)
    base = len(LETTERS)
    return [LETTERS[n // base**2] + LETTERS[n // base % base] + LETTERS[n % base] for n in map(int, places)]


def _numbered(order: list[tuple[str, int, int]], codes: list[str], warm_up: int) -> list[Run]:
    return [
        Run(number=warm_up + n + 1, code=code, arm=arm, block=block, phase=phase)
        for n, ((arm, block, phase), code) in enumerate(zip(order, codes, strict=True))
    ]


def _rule(wish: Wish) -> Rule:
    margin = _margin(wish)
    what = (
        f"the difference {wish.arms[1]} less {wish.arms[0]}"
        if wish.kind == "two arms"
        else f"the change of {wish.arms[0]} less {wish.arms[1]} within blocks, phase 2 less phase 1"
    )
    words = (
        f"Looked at once, when all beads are read. An effect is claimed where the 95 % interval of {what} in "
        f"{wish.response} ({_view(wish)}) leaves 0 out and its size is above {margin:g}; "
        f"practically none where the chance that it lies within ±{margin:g} is above 0.95; else undecided, and as many "
        "beads again would be needed. No bead is left out for its result; a bead spoilt for a reason that was written "
        "down before it was read is welded again."
    )
    return Rule(shown_beyond=margin, none_within=margin, none_chance=0.95, looks=1, words=words)


def _view(wish: Wish) -> str:
    if not wish.covariate:
        return "the view with the scatter known beforehand"
    return f"by analysis of covariance, at equal {wish.covariate.replace('_', ' ')}"


def _notes(wish: Wish, per_arm: int) -> tuple[str, ...]:
    said = [
        f"Scatter {wish.scatter.sd:g} from {wish.scatter.source}"
        + ("." if wish.scatter.source == "own book" else ": a planning value; weigh it again after six beads."),
        before_after_line(wish.scatter.sd),
        STOPPED,
    ]
    if per_arm < 4 and wish.kind == "two arms":
        said.append("With so few beads the count of all ways of dealing them can never fall below 5 %.")
    if wish.covariate:
        said.append(
            f"Measure {wish.covariate.replace('_', ' ')} on every bead, before the arc: its part is taken out by one "
            "straight line for both arms. A bead without it cannot be counted."
        )
    if wish.kind == "reference cylinder":
        said += REFERENCE
    return tuple(said)


def before_after_line(sd: float) -> str:
    """Why three beads before and three after cannot show that rolling a cylinder did anything."""
    return (
        f"Three beads before and three after show only differences above {least_ratio(3) * sd:.2f} "
        f"({least_ratio(3):.1f} times the scatter), and cannot tell the change from warm-up, plate heat or the day."
    )


STOPPED = (
    "An unplanned stop: count whole blocks alone, in the order as planned, write down why before any result is seen, "
    "and say in the report how many beads were planned. What was stopped for its result counts as no trial."
)
REFERENCE = (
    "Rolling cannot be undone and falls together with time, so a second cylinder of the same gas stands beside as "
    "reference; what changes in both is time, what changes in the suspect alone is the rolling.",
    "Between the phases the helper alone opens the envelope, rolls the suspect 20 turns out of sight and moves the "
    "reference as well without rolling it, then waits 15 minutes. Valve closed, regulator off, cap on before rolling.",
    "Welder and reader see coupon codes alone; the helper sets the change-over valve and purges 60 s before each bead.",
    "First measure the gas: where the two cylinders differ by less than 1 % CO2, the beads have nothing to show.",
)
