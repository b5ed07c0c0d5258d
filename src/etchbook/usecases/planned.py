"""Plans of trials on their way in and out: a person's wish, the plan's two documents, and its decision."""

import json
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, fields, replace
from typing import Any

from etchbook.quantity import Measured
from etchbook.terms.settings import ALIASES
from etchbook.terms.settings import NUMBERS as SETTING_NUMBERS
from etchbook.trials.deciding import Decision, decide
from etchbook.trials.planning import Plan, Rule, Run, Wish, plan
from etchbook.trials.scatter import Scatter, StatisticsError
from etchbook.trials.sizing import beads_per_arm, blocks_per_phase, equivalence_per_arm, pairs_needed
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.scatters import scatter_of

FORMAT = "etchbook-plan-1"
KEYS = ("question", "response", "worth", "scatter", "scatter_dof", "welding", "arms", "kind", "margin", "held",
        "covariate", "warm_up", "sections", "power", "seed",
        "beads")  # fmt: skip
NUMBERS: Mapping[str, Callable[[Any], float]] = {
    **dict.fromkeys(("worth", "scatter", "scatter_dof", "margin", "power"), float),
    **dict.fromkeys(("warm_up", "sections", "seed", "beads"), int),
}


def said_in(text: str) -> dict[str, Any]:
    """What a TOML file says about a plan."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RefusedError(f"the plan is not TOML: {error}") from None


def wish_from(said: Mapping[str, Any], secret: str, own: Mapping[str, Scatter] | None = None) -> Wish:
    """A wish out of what a person said.

    Parameters
    ----------
    said : question, response, worth, arms (two, or a text with a comma), and whatever else of KEYS
    secret : what the codes are drawn from
    own : the book's own scatter by dimension; it stands in where the person says none
    """
    for name in said:
        if name not in KEYS:
            raise RefusedError(f'a plan knows no "{name}": use {", ".join(KEYS)}')
    for name in ("question", "worth", "arms"):
        if said.get(name) in (None, "", 0):
            raise RefusedError(f"the plan needs {name}: see `etchbook plan new --help`")
    held = {name: _number(name, said[name]) for name in NUMBERS if said.get(name) is not None}
    response = str(said.get("response", "convexity"))
    scatter = scatter_of(response, held.pop("scatter", None), held.pop("scatter_dof", None),
                         welding=str(said.get("welding", "")), own=own)  # fmt: skip
    kind = str(said.get("kind", "two arms"))
    if kind not in ("two arms", "reference cylinder"):
        raise RefusedError(f'a plan is of the kind "two arms" or "reference cylinder", not "{kind}"')
    fast = said.get("held") or {}
    if not isinstance(fast, Mapping):
        raise RefusedError("[held] is a table of settings that are held fast, with their values")
    fixed = {str(key): str(value) for key, value in fast.items()}
    return Wish(question=str(said["question"]), response=response, scatter=scatter, arms=_arms(said["arms"]),
                kind=kind, held=fixed, secret=secret, covariate=_covariate(said.get("covariate")), **held)  # type: ignore[arg-type]  # fmt: skip


def _covariate(given: Any) -> str:
    """The setting that is measured beside, by its id; "" for none."""
    if given in (None, ""):
        return ""
    name = ALIASES.get(str(given), str(given)).strip().replace(" ", "_")
    if name not in SETTING_NUMBERS:
        raise RefusedError(
            f'a covariate is a setting that is a number, such as start_temperature or amps, not "{given}"'
        )
    return name


def _number(name: str, given: Any) -> float:
    try:
        value = NUMBERS[name](given)
    except (TypeError, ValueError):
        raise RefusedError(f"{name} is a number, not {given!r}") from None
    if isinstance(given, bool) or value != value:
        raise RefusedError(f"{name} is a number, not {given!r}")
    return value


def _arms(given: Any) -> tuple[str, str]:
    parts = given.split(",") if isinstance(given, str) else given
    if not isinstance(parts, list) or len(parts) != 2:
        raise RefusedError(f'two arms are compared, written "10 mm, 15 mm", not {given!r}')
    return str(parts[0]).strip(), str(parts[1]).strip()


def plan_trial(wish: Wish) -> Plan:
    """Plan a trial."""
    return plan(wish)


def size_rows(sd: float, worth: Sequence[float], power: float) -> list[tuple[str, ...]]:
    """How many beads show each difference: two arms, blocks of one each, reference plan; and to show none so large.

    Parameters
    ----------
    sd : scatter from bead to bead [unit of the response]
    worth : smallest differences worth knowing [same unit]
    power : wanted chance of showing them
    """
    rows = []
    for each in worth:
        found = (
            beads_per_arm(sd, each, power=power),
            pairs_needed(sd * 2**0.5, each, power=power),
            blocks_per_phase(sd, each, power=power),
            equivalence_per_arm(sd, each, power=power),
        )
        rows.append((f"{each:g}", *map(str, found)))
    return rows


def plan_document(made: Plan) -> dict[str, Any]:
    """The open part of a plan, which tells no arm of any code."""
    wish = made.wish
    return {
        "format": FORMAT,
        "question": wish.question,
        "response": wish.response,
        "worth": wish.worth,
        "scatter": {"sd": wish.scatter.sd, "dof": _finite(wish.scatter.dof), "source": wish.scatter.source},
        "arms": list(wish.arms),
        "kind": wish.kind,
        "margin": made.rule.none_within,
        "held": dict(wish.held or {}),
        "covariate": wish.covariate,
        "warm_up": wish.warm_up,
        "sections": wish.sections,
        "per_arm": made.per_arm,
        "power": made.power,
        "runs": [{"number": run.number, "code": run.code, "block": run.block, "phase": run.phase} for run in made.runs],
        "rule": asdict(made.rule),
        "lock": made.lock,
        "seal": made.seal,
        "notes": list(made.notes),
    }


def _finite(dof: float) -> float | None:
    return None if dof == float("inf") else dof


def plan_from(document: str, key: str) -> tuple[Plan, dict[str, Any]]:
    """The plan again, out of its open part and its opened key."""
    held, opened = _json(document, "plan"), _json(key, "key")
    if held.get("format") != FORMAT:
        raise RefusedError(f'the document is no plan of ours: its format is not "{FORMAT}"')
    try:
        return _plan(held, opened), opened
    except (KeyError, TypeError, AttributeError) as error:
        raise RefusedError(f"the plan or its key lacks a part: {error}") from None


def _json(text: str, name: str) -> dict[str, Any]:
    try:
        held = json.loads(text)
    except (json.JSONDecodeError, RecursionError) as error:
        raise RefusedError(f"the {name} is not JSON: {error}") from None
    if not isinstance(held, dict):
        raise RefusedError(f"the {name} should be an object of named values")
    return held


def _plan(held: Mapping[str, Any], opened: Mapping[str, Any]) -> Plan:
    spread = held["scatter"]
    dof = float("inf") if spread["dof"] is None else spread["dof"]
    scatter = Scatter(sd=spread["sd"], dof=dof, source=spread["source"])
    rule = Rule(**{part.name: held["rule"][part.name] for part in fields(Rule)})
    runs = tuple(Run(arm=opened["codes"][row["code"]]["arm"] if row["code"] else "", **row) for row in held["runs"])
    wish = Wish(
        question=held["question"], response=held["response"], worth=held["worth"], scatter=scatter,
        arms=(held["arms"][0], held["arms"][1]), kind=held["kind"], margin=held["margin"], held=held["held"],
        warm_up=held["warm_up"], sections=held["sections"], seed=opened["seed"], secret=opened["secret"],
        covariate=held.get("covariate", ""),
    )  # fmt: skip
    return Plan(wish=wish, per_arm=held["per_arm"], power=held["power"], runs=runs, rule=rule, lock=held["lock"],
                seal=held["seal"], notes=tuple(held["notes"]))  # fmt: skip


def sealed_plan(document: str) -> Plan:
    """The plan out of its open part alone: the arm of every bead is told as sealed."""
    held = _json(document, "plan")
    codes = {str(run.get("code", "")): {"arm": "sealed"} for run in held.get("runs", ())}
    return plan_from(document, json.dumps({"codes": codes, "secret": "", "seed": 0}))[0]


def plan_again(document: str, secret: str, seed: int) -> Plan:
    """The whole plan made anew from its open part and from what its codes and its order were drawn from.

    Parameters
    ----------
    document : the open part
    secret, seed : RefusedError where they give another plan than the one that was sealed
    """
    held = sealed_plan(document)
    made = plan(replace(held.wish, secret=secret, seed=seed, beads=held.per_arm))
    if (made.seal, made.lock) != (held.seal, held.lock):
        raise RefusedError("the key of this plan is not held here: it was planned on another machine, or changed since")
    return made


def response_of(document: str) -> str:
    """Which dimension the open part of a plan is about."""
    return str(_json(document, "plan").get("response", ""))


def covariate_of(document: str) -> str:
    """Which setting the open part of a plan names to be measured beside; "" for none."""
    return str(_json(document, "plan").get("covariate", ""))


def decided(
    document: str,
    key: str,
    results: Mapping[str, Measured],
    *,
    covariate: Mapping[str, float] | None = None,
    stopped: str = "",
) -> tuple[Plan, Decision]:
    """Decide a planned trial by its locked rule.

    Parameters
    ----------
    document, key : texts of the plan's open part and its opened key
    results : mean of each bead by its code
    covariate : what the plan named to be measured beside, by code
    stopped : reason of an unplanned stop, written down before any result was seen
    """
    made, opened = plan_from(document, key)
    try:
        return made, decide(made, opened, results, covariate=covariate, stopped=stopped)
    except StatisticsError as error:
        raise RefusedError(str(error)) from None


def plan_lines(made: Plan) -> list[str]:
    """A plan in lines of text; which bead is which arm stays in the key."""
    each = "beads in each arm" if made.wish.kind == "two arms" else "blocks in each of two phases"
    return [
        f"{made.per_arm} {each}, {made.beads} beads; chance of showing {made.wish.worth:g}: {made.power:.2f}",
        f"rule: {made.rule.words}",
        *(f"note: {note}" for note in made.notes),
        f"lock {made.lock[:12]}, seal of the key {made.seal[:12]}",
    ]


def decision_lines(made: Plan, found: Decision) -> list[str]:
    """A decision in lines of text: the question, what the rule says, the views with what each assumes."""
    return [
        made.wish.question,
        found.words,
        *(f"{view.name}: {view.words} ({view.assumes})" for view in found.difference.views),
        *(f"note: {note}" for note in found.notes),
    ]
