"""One indication in the file for a second pair of eyes: figures, what is known, and the questions."""

from html import escape

from etchbook.evidence import Observation, Verdict
from etchbook.report.indication_words import figures
from etchbook.report.svg import printable
from etchbook.section import Indication
from etchbook.usecases.explained import piece_words, range_words, rest_words, shown_verdicts, test_words
from etchbook.usecases.explaining import Explanation

CANNOT_SAY = "cannot say"


def mark_section(item: Explanation, found: Indication) -> str:
    """Everything about one indication as a section of the page."""
    name = _text(item.indication)
    rows = "".join(
        f'<tr><th scope="row">{_text(row["label"])}</th><td>{_text(row["value"])}</td></tr>' for row in figures(found)
    )
    measured = f'<h3>Measured (± 95 % coverage)</h3><table class="facts"><tbody>{rows}</tbody></table>'
    known = f"<h3>How it is weighed so far</h3><p>{_text(item.weighed.sentence)}.</p>{_causes(item)}{_next(item)}"
    return (
        f'<section class="mark" id="mark_{name}"><h2>{name}: {_text(item.place)}</h2>\n'
        f'<div class="two"><div>{measured}</div><div>{known}</div></div>\n'
        f"<h3>Questions on {name}</h3>\n{_questions(item)}{_said(item)}"
        f'<label for="words_{name}">In your own words</label>\n'
        f'<textarea id="words_{name}" data-of="{name}" maxlength="2000"></textarea></section>\n'
    )


def _text(text: str) -> str:
    return escape(printable(text))


def _causes(item: Explanation) -> str:
    rest = rest_words(item)
    listed = "".join(_cause(item, verdict) for verdict in shown_verdicts(item))
    return listed + (f'<p class="soft">Unlikely as well: {_text(rest)}.</p>' if rest else "")


def _cause(item: Explanation, verdict: Verdict) -> str:
    held = f"; {verdict.held_back}" if verdict.held_back else ""
    rows = [("for", piece) for piece in verdict.evidence_for] + [
        ("against", piece) for piece in verdict.evidence_against
    ]
    listed = "".join(f"<li>{sign}: {_text(piece_words(item.table, piece))}</li>" for sign, piece in rows)
    body = f"<ul>{listed}</ul>" if listed else "<ul><li>nothing that was seen speaks for or against it</li></ul>"
    return (
        f'<details class="cause"><summary><span class="says">{_text(verdict.word)}</span> {_text(verdict.cause.label)}'
        f" <small>{_text(verdict.cause.means)}</small></summary>"
        f'<p class="soft">{_text(range_words(verdict) + held)}</p>{body}</details>'
    )


def _next(item: Explanation) -> str:
    return f"<p><b>Next test</b>: {_text(test_words(item.tests[0]))}</p>" if item.tests else ""


def _questions(item: Explanation) -> str:
    answered = {answer.observation for answer in item.answers}
    open_ones = [row for row, _ in item.questions]
    done = [row for row in item.table.observations if row.question and row.id in answered]
    if not open_ones and not done:
        return "<p>There is nothing left to ask.</p>"
    return "".join(_question(item, row, "") for row in open_ones) + "".join(
        _question(item, row, _so_far(item, row)) for row in done
    )


def _so_far(item: Explanation, row: Observation) -> str:
    told = [
        f"{state.label if (state := row.state(answer.state)) else answer.state} ({answer.by})"
        for answer in item.answers
        if answer.observation == row.id
    ]
    return f"Answered so far: {'; '.join(told)}. Tick only if you see it yourself."


def _question(item: Explanation, row: Observation, so_far: str) -> str:
    name = f"{item.indication}.{row.id}"
    states = [(state.id, state.label) for state in row.states] + [("", CANNOT_SAY)]
    boxes = "".join(
        f'<label><input type="radio" name="{_text(name)}" value="{_text(state)}" data-of="{_text(item.indication)}" '
        f'data-question="{_text(row.id)}"{"" if state else " checked"}><span>{_text(label)}</span></label>'
        for state, label in states
    )
    notes = "".join(f"<p>{_text(note)}</p>" for note in (row.how, so_far) if note)
    kind = ' class="done"' if so_far else ""
    return f"<fieldset{kind}><legend>{_text(row.question)}</legend>{notes}{boxes}</fieldset>\n"


def _said(item: Explanation) -> str:
    return "".join(f"<p><b>{_text(remark.by)}</b> wrote: {_text(remark.text)}</p>" for remark in item.words)
