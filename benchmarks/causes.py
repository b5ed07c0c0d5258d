"""How often the cause that is named first is the right one, on described cases."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from benchmarks.cause_answers import person_answers, picture_answers, with_slips
from benchmarks.cause_cases import MAKERS, WRONG, Thing
from benchmarks.tables import Table
from etchbook.evidence import Answer, Case, weigh
from etchbook.usecases.evidence_tables import line_table

SETS = ("the picture alone", "with the look before etching", "with everything answered")
PLACES = ("plate", "plate_many", "haz", "weld")
LOOK = ("unetched_look", "after_repolish")


class Named(NamedTuple):
    """One case weighed with one set of answers."""

    cause: str
    place: str
    answers: str
    first: str
    word: str

    @property
    def right(self) -> bool:
        """Whether the first-named cause is the true one."""
        return self.first == self.cause


def run_causes(count: int, first_seed: int) -> dict[str, Any]:
    """Cases of every cause, each weighed with three sets of answers.

    Parameters
    ----------
    count : cases a cause
    first_seed : of the first case; each further one adds 1
    """
    found = []
    for place, (cause, maker) in enumerate(MAKERS.items()):
        for seed in range(first_seed + place * count, first_seed + (place + 1) * count):
            rng = np.random.default_rng(seed)
            found += _weighed(cause, maker(rng), rng)
    return {"count": count, "first_seed": first_seed, "named": found}


def _weighed(cause: str, thing: Thing, rng: np.random.Generator) -> list[Named]:
    table = line_table()
    seen = with_slips(picture_answers(thing, rng), table, rng)
    told = with_slips(person_answers(thing, rng), table, rng)
    looked = {name: state for name, state in told.items() if name in LOOK}
    rows = []
    for name, answers in zip(SETS, (seen, seen | looked, seen | told), strict=True):
        case = Case(gate=thing.place, answers=tuple(Answer(observation=o, state=s) for o, s in answers.items()))
        first = weigh(table, case).first
        rows.append(Named(cause=cause, place=thing.place, answers=name, first=first.cause.id, word=first.word))
    return rows


def share(named: Sequence[Named], answers: str, cause: str = "") -> float:
    """Share of right first names."""
    rows = [row for row in named if row.answers == answers and cause in ("", row.cause)]
    return sum(row.right for row in rows) / max(len(rows), 1)


def by_priors(named: Sequence[Named], answers: str) -> float:
    """Share of right first names when causes come as often as the table's priors say, the four places alike."""
    gates = [line_table().gate(name) for name in PLACES]
    return sum(_in_place(named, answers, gate.id, gate.priors) for gate in gates) / len(gates)


def _in_place(named: Sequence[Named], answers: str, place: str, priors: Mapping[str, float]) -> float:
    total = right = 0.0
    for cause, prior in priors.items():
        rows = [row for row in named if (row.answers, row.place, row.cause) == (answers, place, cause)]
        if rows:
            total += prior
            right += prior * sum(row.right for row in rows) / len(rows)
    return right / total


def cause_table(found: Mapping[str, Any]) -> Table:
    """Right first names by cause and by what was answered, and how sure the words were."""
    named: list[Named] = found["named"]
    rows = [
        [_label(cause), *(_percent(share(named, name, cause)) for name in SETS), _mixed(named, cause)]
        for cause in MAKERS
    ]
    rows.append(["**weighed by the priors**", *(_percent(by_priors(named, name)) for name in SETS), ""])
    rows.append(["**all causes alike**", *(_percent(share(named, name)) for name in SETS), ""])
    reached = f"{100 * share(named, SETS[-1]):.1f} %, all causes alike"
    return Table(
        title="Which cause is named first",
        before=(f"{found['count']} described cases a cause, seeds from {found['first_seed']}. {_made()}",),
        head=("cause", *SETS, "mostly taken for, with everything answered"),
        rows=rows,
        after=(f"Aimed at: at least 90 % with everything answered; reached: {reached}. {_words(named)}",),
    )


def _made() -> str:
    return (
        "No picture is painted and the table of evidence is not used to make them: each case is a physical thing drawn "
        "from ranges that the prose of the research note gives (guessed where it gives none), and its answers follow "
        f"from what can be seen of such a thing; {100 * WRONG:.0f} % of the answers are wrong at random. Things and "
        "table come from the same note, so the figures say that the weighing holds together with noise and "
        "contradictions in it; they are no proof for real sections."
    )


def _words(named: Sequence[Named]) -> str:
    """How often each word was right, with everything answered."""
    told = []
    for word in ("very likely", "likely", "possible"):
        rows = [row for row in named if row.answers == SETS[-1] and row.word == word]
        if rows:
            told.append(
                f'"{word}" was said of {len(rows)} and right in {_percent(sum(r.right for r in rows) / len(rows))}'
            )
    return "With everything answered " + "; ".join(told) + "."


def _mixed(named: Sequence[Named], cause: str) -> str:
    wrong = Counter(r.first for r in named if r.answers == SETS[-1] and r.cause == cause and not r.right)
    return ", ".join(f"{_label(name)} {count}" for name, count in wrong.most_common(2))


def _label(cause: str) -> str:
    return line_table().cause(cause).label


def _percent(part: float) -> str:
    return f"{100 * part:.0f} %" if part < 0.995 else f"{100 * part:.1f} %"
