"""The command ``line``."""

import sys
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from etchbook.section import Reading
    from etchbook.usecases.answering import Said
    from etchbook.usecases.explaining import Explanation

MOST_ASKED = 12


def line(
    reading: str = typer.Argument(..., metavar="READING.json", help="A reading kept by `etchbook read --json`."),
    answers: list[str] = typer.Option(
        [], metavar="FILE", help="Your answers (TOML), or the text block of a second look; may be given again."
    ),
    ask: bool = typer.Option(False, "--ask", help="Ask what only you can know, one question at a time."),
    keep: str = typer.Option("", metavar="OUT.toml", help="With --ask: keep your answers for the next time."),
    by: str = typer.Option("you", metavar="NAME", help="With --ask: your name or code, shown with your answers."),
    json: bool = typer.Option(False, "--json", help="Print JSON instead of text."),
    pdf: str = typer.Option("", metavar="OUT.pdf", help="Keep the report with a page for each indication."),
    html: str = typer.Option("", metavar="OUT.html", help="The same as one HTML page."),
    photo: str = typer.Option("", metavar="PHOTO", help="For the report: the photo, if not beside the reading."),
) -> None:
    """Explain every indication: what it most likely is, what speaks for and against, and the cheapest next test."""
    from etchbook.cli import line_show, show
    from etchbook.usecases import RefusedError
    from etchbook.usecases.answering import said_as_toml, said_in, together
    from etchbook.usecases.explained import explanation_document
    from etchbook.usecases.explaining import explain
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.press import ReportPress

    if keep and not ask:
        raise RefusedError("--keep goes with --ask: without it there are no new answers to keep")
    desk = FilesDesk()
    record = ReportPress().reading(desk.text(reading))
    said = together(tuple(said_in(desk.text(path)) for path in answers))
    explained = explain(record, said)
    if ask:
        said = _asked(record, said, explained, by)
        explained = explain(record, said)
    kept = {keep: said_as_toml(said, by).encode()} if keep else {}
    kept |= _reports({"pdf": pdf, "html": html}, reading, photo, record, explained)
    desk.keep(kept)
    if json:
        show.as_json([explanation_document(item) for item in explained])
        return
    line_show.explanations(explained)
    for path in kept:
        print(f"kept: {path}")


def _reports(
    wanted: dict[str, str], reading: str, photo: str, record: "Reading", explained: "tuple[Explanation, ...]"
) -> dict[str, bytes]:
    """The reports that were asked for, by path."""
    from etchbook.wiring.press import ReportPress
    from etchbook.wiring.second_look import photo_of

    pages = {kind: path for kind, path in wanted.items() if path}
    if not pages:
        return {}
    picture, _ = photo_of(record, reading, [photo] if photo else [])
    press = ReportPress()
    return {path: press.report(kind, record, None, picture, explained) for kind, path in pages.items()}


def _asked(record: "Reading", said: "Said", explained: "tuple[Explanation, ...]", by: str) -> "Said":
    """The answers with what the person adds; an empty line passes a question by, q ends the asking."""
    from etchbook.evidence import Answer
    from etchbook.usecases.explaining import explain

    for item in explained:
        passed: list[str] = []
        now: Explanation | None = item
        while now is not None and not now.stop and len(passed) < MOST_ASKED:
            question = now.ask_next(passed)
            if question is None:
                break
            state = _one(now, question.id)
            if state == "q":
                return said
            passed.append(question.id)
            if state:
                answer = Answer(observation=question.id, state=state, by=by)
                said = said.with_answer(now.indication, answer)
                now = next(again for again in explain(record, said) if again.indication == item.indication)
    return said


def _one(now: "Explanation", observation: str) -> str:
    """One question on the screen; the state that was chosen, "" for none, "q" to end."""
    row = now.table.observation(observation)
    print(f"\n{now.indication}, so far {now.weighed.sentence}\n{row.question}", file=sys.stderr)
    if row.how:
        print(f"   ({row.how})", file=sys.stderr)
    for number, state in enumerate(row.states, 1):
        print(f"   {number}  {state.label}", file=sys.stderr)
    print("   Enter: do not know    q: enough questions", file=sys.stderr)
    while True:
        print("> ", end="", file=sys.stderr, flush=True)
        typed = sys.stdin.readline()
        word = typed.strip().lower()
        if not typed or word == "q":
            return "q"
        if not word:
            return ""
        if word.isdecimal() and 1 <= int(word) <= len(row.states):
            return row.states[int(word) - 1].id
        if row.state(word) is not None:
            return word
        print(f"please a number from 1 to {len(row.states)}, Enter or q", file=sys.stderr)
