"""An explanation told: as plain lines for a terminal and as a document for other programs."""

from collections.abc import Iterator, Mapping
from typing import Any

from etchbook.evidence import NextTest, Observation, Piece, Table, Verdict
from etchbook.usecases.explaining import Explanation

SHOWN_TESTS = 3
SHOWN_PIECES = 4

LEAST_REST = 0.02
"""A chance below this that a look tells nothing is not worth a line."""


def explanation_lines(item: Explanation) -> Iterator[str]:
    """One explanation as lines of text, indented by their rank."""
    yield f"{item.indication}: {item.weighed.sentence} ({item.place})"
    for verdict in shown_verdicts(item):
        yield from _verdict_lines(item.table, verdict)
    rest = rest_words(item)
    if rest:
        yield f"  unlikely as well: {rest}"
    ruled = ", ".join(cause.label for cause in item.weighed.ruled_out)
    if ruled:
        yield f"  cannot be {item.place}: {ruled}"
    yield from (f"  {line}" for line in prior_lines(item))
    if item.bead is not None:
        yield f"  bead: {item.bead.text} ({item.bead.source}, {item.bead.status})"
    yield from _next_lines(item)
    for advice in item.advice:
        opening = "sources disagree" if advice.conflict else "advice"
        yield f"  {opening}: {advice.text} ({advice.source}, {advice.status})"
    for remark in item.words:
        yield f"  words of {remark.by}: {remark.text}"


def shown_verdicts(item: Explanation) -> tuple[Verdict, ...]:
    """The causes that are worth a paragraph: the likeliest, and every one that is possible."""
    held = item.weighed.verdicts
    return tuple(verdict for place, verdict in enumerate(held) if place < 2 or verdict.word != "unlikely")


def rest_words(item: Explanation) -> str:
    """The causes that get no paragraph, each with its chance before and after what was seen."""
    shown = {verdict.cause.id for verdict in shown_verdicts(item)}
    rest = [verdict for verdict in item.weighed.verdicts if verdict.cause.id not in shown]
    return ", ".join(
        f"{verdict.cause.label} ({chance_words(verdict.prior)}, now {chance_words(verdict.chance)})" for verdict in rest
    )


def piece_words(table: Table, piece: Piece) -> str:
    """One piece of evidence with its weight, its source and who says so."""
    label = table.observation(piece.answer.observation).label
    state = "" if piece.state.label == "yes" else f": {piece.state.label}"
    said = f", {piece.answer.words}" if piece.answer.words else ""
    weight = factor_words(piece)
    source = f"{piece.state.weighs.source}, {piece.state.weighs.status}" if piece.state.weighs.source else "own table"
    return f"{label}{state} ({piece.answer.by or 'told'}{said}); {weight}; {source}"


def factor_words(piece: Piece) -> str:
    """What a piece counted: ``3 times likelier``, ``3 times rarer``; with a note where it counted in part."""
    times = 2 ** abs(piece.bits)
    word = "likelier" if piece.bits > 0 else "rarer"
    part = "" if piece.share == 1 else ", counted by half: a stronger one of its kind counts in full"
    return f"{times:.2g} times {word}{part}"


def prior_lines(item: Explanation) -> Iterator[str]:
    """How far the answer hangs on the priors."""
    gate = item.table.gate(item.weighed.case.gate)
    source = f"{gate.source}, {gate.status}"
    own = "; yours are put in" if item.weighed.case.priors else ""
    yield f"priors {gate.label}: {source}{own}"
    if not item.weighed.swings:
        yield "halving or doubling any one prior changes neither the first-named cause nor its word"
    for swing in item.weighed.swings:
        done = "half" if swing.times < 1 else "twice"
        label, first = (item.table.cause(name).label for name in (swing.cause, swing.first))
        yield f"with {done} the prior of {label} it would read {swing.word}: {first}"


def test_words(item: NextTest) -> str:
    """A test with what it takes and what it promises."""
    lost = "; the piece is lost" if item.test.destroys else ""
    cost = f" and a cost like {item.test.cost:.0f} min" if item.test.cost else ""
    gain = f"{item.gain:.2f} bit, {60 * item.rate:.2g} bit an hour of effort"
    return f"{item.test.label}: {item.test.tells} ({item.test.minutes:.0f} min of work{cost}{lost}; tells {gain})"


def result_words(table: Table, item: NextTest) -> Iterator[str]:
    """What each result of a test would change."""
    for result in item.outcomes:
        row = table.observation(result.observation)
        state = row.state(result.state)
        label = row.label if state is None or state.id == "yes" else f"{row.label}: {state.label}"
        named = [(table.cause(name).label, chance) for name, chance in list(result.after.items())[:2]]
        told = ", ".join(f"{cause} {chance_words(chance)}" for cause, chance in named)
        yield f"{label} (chance {chance_words(result.chance)}): then {told}"
    rest = 1 - sum(result.chance for result in item.outcomes)
    if rest > LEAST_REST:
        yield f"nothing comes of it (chance {chance_words(rest)}): then all stays as it is"


def chance_words(chance: float) -> str:
    """A chance with two digits, never 0 or 1."""
    if chance < 0.01:
        return "below 0.01"
    return "above 0.99" if chance > 0.99 else f"{chance:.2f}"


def range_words(verdict: Verdict) -> str:
    """The chance of a cause before and after what was seen, with its range over halved and doubled priors."""
    spread = f"{chance_words(verdict.low)} to {chance_words(verdict.high)}"
    told = f"prior {chance_words(verdict.prior)}, with what was seen {chance_words(verdict.chance)}"
    return f"{told}; with any one prior halved or doubled {spread}"


def explanation_document(item: Explanation) -> dict[str, Any]:
    """One explanation as plain data for JSON."""
    return {
        "indication": item.indication,
        "place": item.place,
        "verdict": item.weighed.sentence,
        "stop": item.stop,
        "causes": [_verdict_document(item.table, verdict) for verdict in item.weighed.verdicts],
        "ruled_out": [cause.id for cause in item.weighed.ruled_out],
        "answers": [
            {"observation": a.observation, "state": a.state, "by": a.by, "words": a.words} for a in item.answers
        ],
        "swings": [{"cause": s.cause, "times": s.times, "first": s.first, "word": s.word} for s in item.weighed.swings],
        "next_tests": [_test_document(test) for test in item.tests],
        "questions": [_question_document(row, gain) for row, gain in item.questions],
        "advice": [
            {"text": a.text, "conflict": a.conflict, "source": a.source, "status": a.status} for a in item.advice
        ],
        "bead": None if item.bead is None else item.bead.text,
        "words": [{"by": remark.by, "text": remark.text} for remark in item.words],
    }


def _verdict_lines(table: Table, verdict: Verdict) -> Iterator[str]:
    held = f"; {verdict.held_back}" if verdict.held_back else ""
    yield f"  {verdict.word}: {verdict.cause.label} ({range_words(verdict)}{held})"
    for sign, pieces in (("for", verdict.evidence_for), ("against", verdict.evidence_against)):
        for piece in pieces[:SHOWN_PIECES]:
            yield f"    {sign}: {piece_words(table, piece)}"
        if len(pieces) > SHOWN_PIECES:
            yield f"    {sign}: and {len(pieces) - SHOWN_PIECES} weaker"
    if not (verdict.evidence_for or verdict.evidence_against):
        yield "    nothing that was seen speaks for or against it"


def _next_lines(item: Explanation) -> Iterator[str]:
    if item.stop:
        yield f"  looking further is hardly worth it: {item.stop}"
    for place, test in enumerate(item.tests[:SHOWN_TESTS]):
        opening = ("should you look further" if item.stop else "next test") if place == 0 else "or"
        yield f"  {opening}: {test_words(test)}"
        if place == 0:
            if test.test.how:
                yield f"    how: {test.test.how}"
            yield from (f"    if {words}" for words in result_words(item.table, test))
    if item.questions and not item.stop:
        row, gain = item.questions[0]
        yield f"  question to answer next: {row.question} (tells {gain:.2f} bit; {row.id} = {_states(row)})"


def _states(row: Observation) -> str:
    return ", ".join(state.id for state in row.states)


def _verdict_document(table: Table, verdict: Verdict) -> dict[str, Any]:
    return {
        "cause": verdict.cause.id,
        "label": verdict.cause.label,
        "word": verdict.word,
        "held_back": verdict.held_back,
        "prior": verdict.prior,
        "chance": verdict.chance,
        "range": [verdict.low, verdict.high],
        "for": [_piece_document(piece) for piece in verdict.evidence_for],
        "against": [_piece_document(piece) for piece in verdict.evidence_against],
    }


def _piece_document(piece: Piece) -> Mapping[str, Any]:
    return {
        "observation": piece.answer.observation,
        "state": piece.answer.state,
        "by": piece.answer.by,
        "ratio": piece.ratio,
        "share": piece.share,
        "source": piece.state.weighs.source,
        "status": piece.state.weighs.status,
    }


def _test_document(item: NextTest) -> Mapping[str, Any]:
    return {
        "test": item.test.id,
        "label": item.test.label,
        "tells": item.test.tells,
        "minutes": item.test.minutes,
        "cost_minutes": item.test.cost,
        "destroys": item.test.destroys,
        "gain_bits": item.gain,
        "bits_per_minute": item.rate,
        "source": item.test.source,
        "status": item.test.status,
        "results": [
            {"observation": r.observation, "state": r.state, "chance": r.chance, "after": dict(r.after)}
            for r in item.outcomes
        ],
    }


def _question_document(row: Observation, gain: float) -> Mapping[str, Any]:
    return {
        "observation": row.id,
        "question": row.question,
        "states": {state.id: state.label for state in row.states},
        "gain_bits": gain,
    }
