"""The verdict on each cause, the sentence on the whole, and how far it hangs on the priors."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.evidence.records import Cause, Table
from etchbook.evidence.weighing import Case, Piece, pieces, posterior, priors
from etchbook.evidence.wording import CANNOT_TELL, LIKELY, POSSIBLE, VERY_LIKELY, capped, word_for

TELLS = 0.1
"""A piece that counts less than this [bit] is not listed as speaking for or against a cause."""
SURE_ENOUGH = 0.9
"""Chance of one remedy from which on looking further is not worth it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Verdict:
    """One cause, weighed.

    Parameters
    ----------
    prior, chance : before and after what was seen
    word : very likely, likely, possible or unlikely
    held_back : why no better word is said, "" where none is held back
    low, high : the chance when any one prior is halved or doubled
    evidence : what counted for and against it, the strongest first
    """

    cause: Cause
    prior: float
    chance: float
    word: str
    held_back: str
    low: float
    high: float
    evidence: tuple[Piece, ...]

    @property
    def evidence_for(self) -> tuple[Piece, ...]:
        """What speaks for it, the strongest first."""
        return tuple(piece for piece in self.evidence if piece.bits >= TELLS)

    @property
    def evidence_against(self) -> tuple[Piece, ...]:
        """What speaks against it, the strongest first."""
        return tuple(piece for piece in self.evidence if piece.bits <= -TELLS)


@dataclass(frozen=True, kw_only=True, slots=True)
class Swing:
    """What becomes of the first-named cause when one prior is halved or doubled."""

    cause: str
    times: float
    first: str
    word: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Weighed:
    """A case, weighed.

    Parameters
    ----------
    verdicts : the likeliest cause first; causes that cannot be in this place are in `ruled_out`
    sentence : the verdict on the whole in words
    swings : the changes of one prior that would name another cause first or change its word; none is the best news
    """

    case: Case
    verdicts: tuple[Verdict, ...]
    ruled_out: tuple[Cause, ...]
    sentence: str
    swings: tuple[Swing, ...]

    @property
    def first(self) -> Verdict:
        """The likeliest cause."""
        return self.verdicts[0]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Chances:
    """Chance of each cause before, after, and after with one prior halved or doubled: (cause, times) -> chances."""

    before: Mapping[str, float]
    after: Mapping[str, float]
    swung: Mapping[tuple[str, float], Mapping[str, float]]


def weigh(table: Table, case: Case) -> Weighed:
    """Weigh a case: gate first, then priors, then the evidence group by group.

    Parameters
    ----------
    table : what is known beforehand
    case : where it is, and what was seen; an observation without an answer, or with one the table does not
        know a weight for, is neutral

    Returns
    -------
    Weighed
        Words, with the chances behind them; never a proof.
    """
    _check(table, case)
    after = posterior(table, case)
    chances = _Chances(before=priors(table, case), after=after, swung=_swung(after))
    verdicts = tuple(_verdict(table, case, name, chances) for name in after)
    return Weighed(
        case=case,
        verdicts=verdicts,
        ruled_out=tuple(cause for cause in table.causes if cause.id not in after),
        sentence=_sentence(verdicts),
        swings=_swings(table, case, chances),
    )


def stop_reason(table: Table, weighed: Weighed) -> str:
    """Why looking further is not worth it, or "" while it is.

    One remedy holds at least 0.9 of the chance: a single cause, or several that are mended the same way.
    """
    held: dict[str, float] = {}
    for verdict in weighed.verdicts:
        remedy = verdict.cause.remedy or verdict.cause.id
        held[remedy] = held.get(remedy, 0.0) + verdict.chance
    top = max(held, key=lambda name: held[name])
    if held[top] < SURE_ENOUGH or weighed.first.held_back:
        return ""
    names = [verdict.cause.label for verdict in weighed.verdicts if (verdict.cause.remedy or verdict.cause.id) == top]
    many = len(names) > 1
    return f"{' or '.join(names)}: {'all are mended the same way' if many else 'nothing else is left that is likely'}"


def _check(table: Table, case: Case) -> None:
    table.gate(case.gate)
    for answer in case.answers:
        table.observation(answer.observation)


def _verdict(table: Table, case: Case, name: str, chances: _Chances) -> Verdict:
    word, why = capped(table, name, word_for(chances.after[name]), case.answers)
    spread = [swung[name] for swung in chances.swung.values()] + [chances.after[name]]
    weighed = sorted(pieces(table, case.answers, name), key=lambda piece: -abs(piece.bits))
    return Verdict(
        cause=table.cause(name),
        prior=chances.before[name],
        chance=chances.after[name],
        word=word,
        held_back=why,
        low=min(spread),
        high=max(spread),
        evidence=tuple(piece for piece in weighed if piece.bits != 0),
    )


def _sentence(verdicts: Sequence[Verdict]) -> str:
    first = verdicts[0]
    if first.word in (VERY_LIKELY, LIKELY):
        return f"{first.word}: {first.cause.label}"
    if first.held_back:
        return f"{POSSIBLE}: {first.cause.label}; {first.held_back}"
    names = [verdict.cause.label for verdict in verdicts if verdict.word == POSSIBLE]
    return f"{CANNOT_TELL}; possible: {', '.join(names)}" if names else CANNOT_TELL


def _swung(now: Mapping[str, float]) -> dict[tuple[str, float], dict[str, float]]:
    """The chances with each prior halved and doubled in turn."""
    return {(name, times): _scaled(now, name, times) for name in now for times in (0.5, 2.0)}


def _scaled(now: Mapping[str, float], name: str, times: float) -> dict[str, float]:
    raw = {cause: chance * (times if cause == name else 1.0) for cause, chance in now.items()}
    total = sum(raw.values())
    return {cause: chance / total for cause, chance in raw.items()}


def _swings(table: Table, case: Case, chances: _Chances) -> tuple[Swing, ...]:
    first, word = _told_first(table, case, chances.after)
    found = []
    for (name, times), swung in chances.swung.items():
        top, said = _told_first(table, case, swung)
        if (top, said) != (first, word):
            found.append(Swing(cause=name, times=times, first=top, word=said))
    return tuple(found)


def _told_first(table: Table, case: Case, chances: Mapping[str, float]) -> tuple[str, str]:
    top = max(chances, key=lambda cause: chances[cause])
    return top, capped(table, top, word_for(chances[top]), case.answers)[0]
