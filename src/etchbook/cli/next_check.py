"""The command ``next-check``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    from etchbook.evidence import Answer


def next_check(
    answers: list[str] = typer.Argument(
        None, metavar="[OBSERVATION=yes|no]...", help="What was seen: amps_differ=yes."
    ),
    settings: str = typer.Option("", metavar="FILE.toml", help="Logged settings: [[a]] usual beads, [[b]] odd ones."),
    usual: list[str] = typer.Option([], metavar="BEAD", help="A usual bead: code in the book or READING.json. Repeat."),
    odd: list[str] = typer.Option([], metavar="BEAD", help="A bead that came out different. Repeat."),
    prior: list[str] = typer.Option([], metavar="CAUSE=CHANCE", help="A prior of your own; may be given again."),
    ask: bool = typer.Option(False, "--ask", help="Ask one question after the other; empty passes by, q ends."),
    observations: bool = typer.Option(False, "--list", help="List the observations and how each is looked for."),
    json: bool = typer.Option(False, "--json", help="Print JSON instead of text."),
    book: str | None = BOOK,
) -> None:
    """Say what most likely made a bead come out different, and which check comes next."""
    from etchbook.cli import show
    from etchbook.trials.causes import bead_table, from_log
    from etchbook.usecases.next_check import answer_from, document, lines, prior_from
    from etchbook.usecases.next_check import next_check as weighed

    if observations:
        rows = [(row.id, row.question or row.label, row.how) for row in bead_table().observations]
        show.table(("observation", "question", "how"), rows)
        return
    given: list[Answer] = []
    if settings:
        from etchbook.wiring.compared import logged_numbers

        given += from_log(*logged_numbers(settings))
    if usual or odd:
        from etchbook.wiring.compared import answers_from

        given += answers_from(usual, odd, book)
    given += [answer_from(text) for text in answers or []]
    priors = dict(prior_from(text) for text in prior)
    found = weighed(given, priors)
    if ask:
        given = _asked(given, priors)
        found = weighed(given, priors)
    if json:
        show.as_json(document(found))
        return
    for line in lines(found):
        print(line)


def _asked(given: "list[Answer]", priors: dict[str, float]) -> "list[Answer]":
    """The answers with what the person adds, the most telling question first."""
    from etchbook.evidence import Answer, Case, next_questions
    from etchbook.trials.causes import bead_table

    passed: list[str] = []
    while True:
        case = Case(gate="any", answers=tuple(given), priors=priors or None)
        open_questions = next_questions(bead_table(), case, passed)
        if not open_questions:
            return given
        question = open_questions[0][0]
        print(f"{question.question} ({question.how or 'look'})")
        said = input("yes, no, empty or q: ").strip().lower()
        if said == "q":
            return given
        if said in ("yes", "no", "y", "n"):
            state = "yes" if said.startswith("y") else "no"
            given = [*given, Answer(observation=question.id, state=state, by="you")]
        else:
            passed.append(question.id)
