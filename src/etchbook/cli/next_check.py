"""The command ``next-check``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    from etchbook.evidence import Answer, Table


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
    table: str = typer.Option("", metavar="FILE.toml", help="A table of your own, built like the packaged one."),
    keep_table: str = typer.Option("", metavar="OUT.toml", help="Keep the packaged table there, to be changed."),
    json: bool = typer.Option(False, "--json", help="Print JSON instead of text."),
    book: str | None = BOOK,
) -> None:
    """Say what most likely made a bead come out different, and which check comes next."""
    from etchbook.cli import show
    from etchbook.trials.causes import from_log, usual_knowledge
    from etchbook.usecases.next_check import answer_from, document, knowledge_in, lines, prior_from
    from etchbook.usecases.next_check import next_check as weighed
    from etchbook.wiring.desk import FilesDesk

    if keep_table:
        from etchbook.tables.packaged import packaged_text

        FilesDesk().keep({keep_table: packaged_text("evidence-beads").encode()})
        print(f"kept: {keep_table}; change its priors and ratios, then give it with --table")
        return
    known = knowledge_in(FilesDesk().text(table)) if table else usual_knowledge()
    if observations:
        rows = [(row.id, row.question or row.label, row.how) for row in known.table.observations]
        show.table(("observation", "question", "how"), rows)
        return
    given: list[Answer] = []
    if settings:
        from etchbook.wiring.compared import logged_numbers

        given += from_log(*logged_numbers(settings))
    told: list[str] = []
    if usual or odd:
        from etchbook.wiring.comparison import usual_and_odd

        answered, told = usual_and_odd(usual, odd, book)
        given += answered
    given += [answer_from(text) for text in answers or []]
    priors = dict(prior_from(text) for text in prior)
    found = weighed(given, priors, known)
    if ask:
        found = weighed(_asked(given, priors, known.table), priors, known)
    if json:
        show.as_json(document(found))
        return
    for line in (*told, *lines(found)):
        print(line)


def _asked(given: "list[Answer]", priors: dict[str, float], table: "Table") -> "list[Answer]":
    """The answers with what the person adds, the most telling question first."""
    from etchbook.evidence import Answer, Case, next_questions

    passed: list[str] = []
    while True:
        case = Case(gate="any", answers=tuple(given), priors=priors or None)
        open_questions = next_questions(table, case, passed)
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
