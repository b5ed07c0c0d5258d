"""The commands that only list: terms, limits, check."""

import sys
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from etchbook.usecases.checks import CheckResult

AS_JSON = typer.Option(False, "--json", help="Print JSON instead of a table.")


def terms(
    joint: str = typer.Option("", help="Only the dimensions of this joint: tee, lap, corner, butt or bead."),
    json: bool = AS_JSON,
) -> None:
    """List the words: every dimension and setting with its unit and its definition, and the rest."""
    from dataclasses import asdict

    from etchbook.cli import show
    from etchbook.terms import DIMENSIONS, WORDS
    from etchbook.terms.settings import SETTINGS
    from etchbook.usecases.words import wanted_terms

    rows = wanted_terms(joint) if joint else (*DIMENSIONS.values(), *SETTINGS.values(), *WORDS.values())
    if json:
        show.as_json([asdict(term) for term in rows])
        return
    cells = [(term.id, term.label, term.unit, " ".join(term.joints), term.definition) for term in rows]
    show.table(("id", "word", "unit", "joints", "definition"), cells)


def limits(json: bool = AS_JSON) -> None:
    """List the packaged sets of limits that --against takes."""
    from etchbook.cli import show
    from etchbook.tables import limit_sets, load_limits

    sets = [(name, load_limits(name)) for name in limit_sets()]
    if json:
        show.as_json([{"name": name, "title": held.title, "rows": len(held.limits)} for name, held in sets])
        return
    show.table(("name", "title", "rows"), [(name, held.title, str(len(held.limits))) for name, held in sets])


def check(json: bool = AS_JSON) -> None:
    """Run every check row on this machine and print its source beside it."""
    from etchbook.cli import show
    from etchbook.usecases.checks import run_checks

    results = run_checks()
    if json:
        show.as_json([_told(result) for result in results])
    else:
        show.table(
            ("agrees", "row", "expected", "found", "source"), [tuple(_told(result).values()) for result in results]
        )
    failed = sum(not result.passed for result in results)
    print(f"{len(results)} rows, {len(results) - failed} agree, {failed} do not", file=sys.stderr)
    raise typer.Exit(1 if failed else 0)


def _told(result: "CheckResult") -> dict[str, str]:
    row = result.row
    source = ", ".join(part for part in (row.source, row.edition, row.clause) if part)
    return {
        "agrees": "yes" if result.passed else "NO",
        "id": row.id,
        "expected": row.expected,
        "found": result.found,
        "unit": row.unit,
        "source": source,
        "status": row.status,
    }
