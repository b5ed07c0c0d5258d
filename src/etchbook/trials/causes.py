"""What the log and two readings say by themselves about the causes of a changed bead, and which check comes next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from etchbook.evidence import Answer, Case, EvidenceError, Table, search_order, table_from
from etchbook.evidence.weighing import posterior
from etchbook.quantity import Measured, Quantity
from etchbook.tables.packaged import packaged

BY = "the log"
BY_READING = "the readings"


@dataclass(frozen=True, kw_only=True, slots=True)
class Check:
    """An isolating check of one cause.

    Parameters
    ----------
    cause, how : what it looks for, and how
    chance : of the cause, as things stand
    detects : chance that the check finds it when it is there
    minutes : what it takes [min]
    """

    cause: str
    how: str
    chance: float
    detects: float
    minutes: float

    @property
    def rate(self) -> float:
        """Chance of finding it for a minute of work."""
        return self.chance * self.detects / self.minutes


@dataclass(frozen=True, kw_only=True, slots=True)
class Knowledge:
    """What is known beforehand of changed beads: the table of evidence, and the isolating check of each cause."""

    table: Table
    checks: tuple[Mapping[str, Any], ...]


def knowledge_from(held: Mapping[str, Any]) -> Knowledge:
    """A table of a person's own, built like the packaged one.

    EvidenceError with one sentence where it cannot be used.
    """
    try:
        table = table_from(held)
        rows = tuple(held["check"])
        lost = [row["cause"] for row in rows if row["cause"] not in {cause.id for cause in table.causes}]
        sound = all(float(row["minutes"]) > 0 and 0 <= float(row["detects"]) <= 1 and row["how"] for row in rows)
    except EvidenceError:
        raise
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise EvidenceError(f"the table lacks a part, or a part is no number: {error}") from None
    if lost or not sound:
        raise EvidenceError(
            f'a check names "{lost[0]}", which is no cause'
            if lost
            else "a check has minutes above 0 and detects 0 to 1"
        )
    table.gate("any")
    return Knowledge(table=table, checks=rows)


@cache
def usual_knowledge() -> Knowledge:
    """What ships: causes, evidence and checks of common practice."""
    return knowledge_from(packaged("evidence-beads"))


def bead_table() -> Table:
    """Causes of a bead that came out different at the same settings, with evidence and checks (common practice)."""
    return usual_knowledge().table


def checks(case: Case, known: Knowledge | None = None) -> tuple[Check, ...]:
    """The isolating checks in the order that finds a single fault in the fewest minutes: chance × detection / minutes.

    Parameters
    ----------
    case : what was seen
    known : a table of one's own; the packaged one where None

    Source: exchange argument for single-fault search, research note 5a.
    """
    held = known or usual_knowledge()
    rows = {row["cause"]: row for row in held.checks}
    chance = posterior(held.table, case)
    detects = {name: float(row["detects"]) for name, row in rows.items()}
    minutes = {name: float(row["minutes"]) for name, row in rows.items()}
    return tuple(
        Check(cause=name, how=rows[name]["how"], chance=chance.get(name, 0.0), detects=detects[name],
              minutes=minutes[name])
        for name in search_order(chance, detects, minutes)
    )  # fmt: skip


def from_log(usual: Sequence[Mapping[str, float]], odd: Sequence[Mapping[str, float]]) -> tuple[Answer, ...]:
    """What the logged settings of usual and odd beads answer by themselves; what was not logged answers nothing.

    Parameters
    ----------
    usual, odd : numbers by setting, one mapping a bead: amps [A], wire_feed [m/min], start_temperature [°C],
        stick_out [mm], arc_time [s] with bead_length [mm], order
    """
    told = [_amps(usual, odd), _stick_out(usual, odd), _start(usual, odd), _speed(usual, odd), _first(odd)]
    return tuple(answer for answer in told if answer is not None)


def from_readings(
    usual: Mapping[str, Quantity], odd: Mapping[str, Quantity], *, height: str, width: str, form_scatter: float = 0.02
) -> tuple[Answer, ...]:
    """Whether two readings have the same deposited area within 5 % but another form.

    Parameters
    ----------
    usual, odd : dimensions by id
    height, width : which dimensions make the form, such as excess_weld_metal and weld_width
    form_scatter : change of height over width that beads welded alike show
    """
    names = ("deposited_area", height, width)
    held = [[each.get(name) for name in names] for each in (usual, odd)]
    numbers = [[part.value for part in side if isinstance(part, Measured)] for side in held]
    if any(len(side) < 3 or side[0] <= 0 or side[2] <= 0 for side in numbers):
        return ()
    (area_a, height_a, width_a), (area_b, height_b, width_b) = numbers
    grown, form = area_b / area_a - 1, height_b / width_b - height_a / width_a
    if abs(grown) > 0.05:
        return (Answer(observation="other_form", state="no", by=BY_READING, words=f"area {100 * grown:+.0f} %"),)
    state = "yes" if abs(form) > form_scatter else "no"
    words = f"area {100 * grown:+.0f} %, height over width {form:+.3f}"
    return (Answer(observation="other_form", state=state, by=BY_READING, words=words),)


def _mean(beads: Sequence[Mapping[str, float]], name: str) -> float | None:
    held = [bead[name] for bead in beads if name in bead]
    return sum(held) / len(held) if held else None


def _answer(observation: str, yes: bool, words: str) -> Answer:
    return Answer(observation=observation, state="yes" if yes else "no", by=BY, words=words)


def _amps(usual: Sequence[Mapping[str, float]], odd: Sequence[Mapping[str, float]]) -> Answer | None:
    amps, feed = ([_mean(group, name) for group in (usual, odd)] for name in ("amps", "wire_feed"))
    if not all(amps) or not all(feed):
        return None
    assert amps[0] and amps[1] and feed[0] and feed[1]
    if abs(feed[1] / feed[0] - 1) > 0.02:
        return None  # another feed draws other amps by itself
    return _answer("amps_differ", abs(amps[1] / amps[0] - 1) > 0.05, f"{amps[0]:.0f} against {amps[1]:.0f} A")


def _stick_out(usual: Sequence[Mapping[str, float]], odd: Sequence[Mapping[str, float]]) -> Answer | None:
    a, b = _mean(usual, "stick_out"), _mean(odd, "stick_out")
    if a is None or b is None:
        return None
    return _answer("stick_out_differs", abs(b - a) >= 3, f"{a:g} against {b:g} mm")


def _start(usual: Sequence[Mapping[str, float]], odd: Sequence[Mapping[str, float]]) -> Answer | None:
    a, b = _mean(usual, "start_temperature"), _mean(odd, "start_temperature")
    if a is None or b is None:
        return None
    return _answer("start_differs", abs(b - a) > 50, f"{a:.0f} against {b:.0f} °C")


def _speed(usual: Sequence[Mapping[str, float]], odd: Sequence[Mapping[str, float]]) -> Answer | None:
    speeds = [_mean([_with_speed(bead) for bead in group], "speed") for group in (usual, odd)]
    if speeds[0] is None or speeds[1] is None or speeds[0] <= 0:
        return None
    words = f"{speeds[0]:.2f} against {speeds[1]:.2f} mm/s by arc time"
    return _answer("speed_differs", abs(speeds[1] / speeds[0] - 1) > 0.07, words)


def _with_speed(bead: Mapping[str, float]) -> Mapping[str, float]:
    """The speed by arc time and length; a speed that was merely set does not count."""
    if bead.get("arc_time", 0) > 0 and bead.get("bead_length", 0) > 0:
        return {"speed": bead["bead_length"] / bead["arc_time"]}
    return {}


def _first(odd: Sequence[Mapping[str, float]]) -> Answer | None:
    orders = [bead["order"] for bead in odd if "order" in bead]
    return _answer("first_bead", min(orders) <= 1, "by its place in the order") if orders else None
