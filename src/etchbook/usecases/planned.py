"""Plans of trials on their way in and out: a person's wish, the plan's two documents, and its decision."""

import json
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import asdict, fields
from typing import Any

from etchbook.quantity import Measured
from etchbook.terms import DIMENSIONS
from etchbook.trials.deciding import Decision, decide
from etchbook.trials.planning import Plan, Rule, Run, Wish, plan
from etchbook.trials.scatter import Scatter, StatisticsError
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.scatters import scatter_for

FORMAT = "etchbook-plan-1"
KEYS = ("question", "response", "worth", "scatter", "scatter_dof", "welding", "arms", "kind", "margin", "held",
        "warm_up", "sections", "power", "seed", "beads")  # fmt: skip
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
    if response not in DIMENSIONS:
        raise RefusedError(f'"{response}" is no dimension: see `etchbook terms` for the ids')
    mine = None if "scatter" in held else (own or {}).get(response)
    scatter = mine or scatter_for(
        response, held.pop("scatter", None), held.pop("scatter_dof", None), said.get("welding", "")
    )
    if scatter is None:
        raise RefusedError(f"nothing is known of how {response} scatters: give --scatter, from some beads welded alike")
    kind = str(said.get("kind", "two arms"))
    if kind not in ("two arms", "reference cylinder"):
        raise RefusedError(f'a plan is of the kind "two arms" or "reference cylinder", not "{kind}"')
    fast = said.get("held") or {}
    if not isinstance(fast, Mapping):
        raise RefusedError("[held] is a table of settings that are held fast, with their values")
    fixed = {str(key): str(value) for key, value in fast.items()}
    return Wish(question=str(said["question"]), response=response, scatter=scatter, arms=_arms(said["arms"]),
                kind=kind, held=fixed, secret=secret, **held)  # type: ignore[arg-type]  # fmt: skip


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
    )  # fmt: skip
    return Plan(wish=wish, per_arm=held["per_arm"], power=held["power"], runs=runs, rule=rule, lock=held["lock"],
                seal=held["seal"], notes=tuple(held["notes"]))  # fmt: skip


def response_of(document: str) -> str:
    """Which dimension the open part of a plan is about."""
    return str(_json(document, "plan").get("response", ""))


def decided(document: str, key: str, results: Mapping[str, Measured], *, stopped: str = "") -> tuple[Plan, Decision]:
    """Decide a planned trial by its locked rule.

    Parameters
    ----------
    document, key : texts of the plan's open part and its opened key
    results : mean of each bead by its code
    stopped : reason of an unplanned stop, written down before any result was seen
    """
    made, opened = plan_from(document, key)
    try:
        return made, decide(made, opened, results, stopped=stopped)
    except StatisticsError as error:
        raise RefusedError(str(error)) from None
