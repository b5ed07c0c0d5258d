"""The commands ``compare`` and ``next-check``."""

from typing import TYPE_CHECKING, Any

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    from etchbook.usecases.comparing import Comparison


def compare(
    a: list[str] = typer.Option(
        ...,
        "--a",
        metavar="BEAD",
        help="A bead of the first group: code in the book, READING.json, or ONE.json+TWO.json (sections). Repeat.",
    ),
    b: list[str] = typer.Option(..., "--b", metavar="BEAD", help="A bead of the second group. Repeat."),
    names: str = typer.Option("a, b", metavar='"A, B"', help="What the groups are called."),
    settings: str = typer.Option("", metavar="FILE.toml", help="What was logged: [[a]] and [[b]], one table a bead."),
    under_test: str = typer.Option("", metavar="SETTING", help="The setting that was meant to differ."),
    on: str = typer.Option("", metavar="DIMENSION", help="The dimension the question is about."),
    scatter: float | None = typer.Option(None, metavar="SD", help="Of that dimension, from bead to bead."),
    scatter_dof: float | None = typer.Option(None, metavar="N", help="Beads behind the scatter, less one."),
    margin: float | None = typer.Option(None, metavar="D", help="Differences of it up to this are of no consequence."),
    welding: str = typer.Option("", metavar="HOW", help="mechanised or hand: which planning scatter is meant."),
    html: str = typer.Option("", metavar="OUT.html", help="Keep everything as one page with its drawings."),
    plots: str = typer.Option("", metavar="DIR", help="Keep the drawings there: strips, outlines, run order."),
    json: bool = typer.Option(False, "--json", help="Print JSON instead of tables."),
    book: str | None = BOOK,
) -> None:
    """Compare two beads or two groups of beads: what differs, whether it is more than scatter, what else moved."""
    from pathlib import Path

    from etchbook.cli import show
    from etchbook.usecases.comparing import compare as compared
    from etchbook.usecases.scatters import scatter_for
    from etchbook.wiring.compared import compare_page, compare_pages, coupon_of, groups_from, settings_file
    from etchbook.wiring.desk import FilesDesk

    logged = settings_file(settings) if settings else {}
    groups, own = groups_from(a, b, logged, book)
    question = on or _usual(groups[0][0].sections[0][0].joint.family)
    known = scatter_for(question, scatter, scatter_dof, welding) if scatter is not None else None
    coupon, taken = coupon_of(groups[0][0])
    made = compared(
        groups[0],
        groups[1],
        names=_names(names),
        scatter=own if known is None else own | {question: known},
        welding=welding,
        margins=_margins(logged, question, margin),
        under_test=under_test or str(logged.get("under_test", "")),
        coupon=coupon,
        taken=taken,
    )
    _known(made, question)
    pages = compare_pages(made, question) if plots or html else {}
    if plots:
        FilesDesk().make_folder(plots)
    kept = {str(Path(plots) / name): page for name, page in pages.items()} if plots else {}
    kept |= {html: compare_page(made, question, pages)} if html else {}
    FilesDesk().keep(kept)
    if json:
        show.as_json(_document(made, question))
    else:
        _print(made, question)
    if kept and not json:
        print(f"kept: {', '.join(kept)}")


def _usual(family: str) -> str:
    return "convexity" if family in ("tee", "lap", "corner") else "excess_weld_metal"


def _names(typed: str) -> tuple[str, str]:
    from etchbook.usecases.errors import RefusedError

    parts = [part.strip() for part in typed.split(",")]
    if len(parts) != 2 or not all(parts) or parts[0] == parts[1]:
        raise RefusedError(f'--names are two different names with a comma between them, not "{typed}"')
    return parts[0], parts[1]


def _margins(logged: dict[str, Any], question: str, margin: float | None) -> dict[str, float]:
    from etchbook.usecases.errors import RefusedError

    held = logged.get("margin", {})
    if not isinstance(held, dict) or not all(isinstance(value, int | float) for value in held.values()):
        raise RefusedError("[margin] is a table of numbers by dimension")
    return held | ({} if margin is None else {question: margin})


def _known(made: "Comparison", question: str) -> None:
    from etchbook.usecases.errors import RefusedError

    names = [row.dimension for row in made.rows]
    if question not in names:
        raise RefusedError(f"{question} was read on no bead; read were {', '.join(names) or 'none'}")


def _print(made: "Comparison", question: str) -> None:
    from etchbook.cli import show
    from etchbook.quantity import Absent, spoken
    from etchbook.terms import DIMENSIONS
    from etchbook.trials.confounding import setting_words

    row = next(row for row in made.rows if row.dimension == question)
    if isinstance(row.difference, Absent):
        print(f"{DIMENSIONS[question].label}: {row.difference.reason}")
    else:
        print(f"{DIMENSIONS[question].label}: {row.difference.words}")
        for view in row.difference.views:
            print(f"  {view.name}: {view.words} Assumes: {view.assumes}")
    rows = [(DIMENSIONS[one.dimension].label, spoken(one.a), spoken(one.b), *_apart(one.difference), one.dimension)
            for one in made.rows]  # fmt: skip
    show.table(("dimension", *made.names, "difference", "verdict", "id"), rows)
    for part in made.splits.values():
        print(f"amount and form: {part.words}")
    for suspect in made.suspects:
        if suspect.kind != "not logged":
            print(f"beside it: {suspect.words}")
    lacking = [setting_words(suspect.setting) for suspect in made.suspects if suspect.kind == "not logged"]
    if lacking:
        print(f"not logged for any bead: {', '.join(lacking)}")
    _print_expected(made)
    for note in made.notes:
        print(f"note: {note}")


def _apart(found: Any) -> tuple[str, str]:
    from etchbook.quantity import Absent

    return ("", found.reason) if isinstance(found, Absent) else (f"{found.value:+.2f}", found.verdict)


def _print_expected(made: "Comparison") -> None:
    from etchbook.cli import show
    from etchbook.procedure.heat_flow import CONDUCTION
    from etchbook.quantity import Absent
    from etchbook.usecases.effects import effect_table

    headings, rows = effect_table(made.beside)
    if isinstance(made.expected, Absent):
        print(f"what the settings would do is not known: {made.expected.reason}")
    elif rows:
        show.table(headings, rows)
        print(f"note: {CONDUCTION}")
    for hint in made.beside.hints:
        print(f"not reckoned: {hint}")


def _document(made: "Comparison", question: str) -> dict[str, Any]:
    from dataclasses import asdict

    from etchbook.quantity import Absent

    def plain(value: Any) -> Any:
        if isinstance(value, Absent):
            return {"absent": value.reason}
        return {key: _finite(part) for key, part in asdict(value).items()}

    return {
        "names": list(made.names),
        "question": question,
        "rows": [{"dimension": row.dimension, "a": plain(row.a), "b": plain(row.b),
                  "difference": plain(row.difference)} for row in made.rows],
        "splits": {name: plain(part) for name, part in made.splits.items()},
        "suspects": [plain(one) for one in made.suspects],
        "expected": (
            plain(made.expected) if isinstance(made.expected, Absent) else [plain(one) for one in made.expected]
        ),
        "seen": dict(zip(made.beside.labels, made.beside.seen, strict=True)),
        "hints": list(made.beside.hints),
        "notes": list(made.notes),
    }  # fmt: skip


def _finite(value: Any) -> Any:
    """The value with None for numbers that JSON cannot hold."""
    if isinstance(value, float) and (value != value or value in (float("inf"), float("-inf"))):
        return None
    if isinstance(value, dict):
        return {key: _finite(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(part) for part in value]
    return value
