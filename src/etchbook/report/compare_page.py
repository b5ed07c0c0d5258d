"""A comparison of two groups of beads as one HTML page that needs nothing from outside."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from html import escape

from etchbook.procedure.heat_flow import CONDUCTION
from etchbook.quantity import Absent
from etchbook.report.page import house_style
from etchbook.usecases.comparing import Comparison, Row
from etchbook.usecases.comparing_words import dimension_table, moved_lines, verdict_words, view_rows, views_heading
from etchbook.usecases.effects import effect_table

CAPTIONS = {
    "outlines.svg": "The first section of every bead, laid on each other.",
    "strips.svg": "Every bead as a point with its ±; the upright line is the mean of its group.",
    "order.svg": "Over the order of welding: drift, warm-up and plate heat show here.",
    "start-temperature.svg": "Over the start temperature.",
}


PLOTS = "figure.plot svg { max-width: 150mm; }\n"


def compare_html(made: Comparison, question: str, drawings: Mapping[str, str], *, today: date) -> str:
    """The comparison as one self-contained page.

    Parameters
    ----------
    made : the comparison
    question : id of the dimension it is about
    drawings : SVG by file name, as `compareplots` makes them
    today : printed as the day of the page
    """
    row = next(row for row in made.rows if row.dimension == question)
    title = titled(made)
    body = "".join((
        f"<h1>{escape(title)}</h1><p class='lead'>{escape(bead_line(made))} · {today.isoformat()}</p>",
        f"<div class='verdict'><p>{escape(verdict_words(row))}</p></div>",
        *_views(row),
        *(_figure(name, svg, at) for at, (name, svg) in enumerate(drawings.items()) if name != "strips.svg"),
        *_moved(made),
        "<h2>Every dimension</h2>" + _table(*dimension_table(made)),
        *(_figure(name, svg, 9) for name, svg in drawings.items() if name == "strips.svg"),
        "<h2>To know</h2>" + _list(made.notes),
    ))  # fmt: skip
    policy = "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>\n{house_style()}{PLOTS}</style>\n</head>\n"
        f"<body>\n<main>\n{body}</main>\n</body>\n</html>\n"
    )


def titled(made: Comparison) -> str:
    """The heading of the page."""
    words = f"{made.names[0]} and {made.names[1]} compared"
    return words[0].upper() + words[1:]


def bead_line(made: Comparison) -> str:
    """Which beads are in which group."""
    return "; ".join(
        f"{name}: {', '.join(bead.code for bead in group)}" for name, group in zip(made.names, made.groups, strict=True)
    )


def _views(row: Row) -> Iterable[str]:
    rows = view_rows(row)
    if rows:
        yield f"<h2>{views_heading(row)}</h2>" + _table(("view", "says", "assumes"), rows)


def _moved(made: Comparison) -> Iterable[str]:
    if made.splits:
        yield "<h2>Amount or form</h2>" + _list(part.words for part in made.splits.values())
    yield "<h2>What else was not the same</h2>"
    yield _list(moved_lines(made))
    if isinstance(made.expected, Absent):
        yield f"<p class='none'>What the settings would do is not known: {escape(made.expected.reason)}.</p>"
    headings, rows = effect_table(made.beside)
    if rows:
        yield _table(headings, rows)
        yield f"<p class='soft'>{escape(CONDUCTION[0].upper() + CONDUCTION[1:])}.</p>"
    if made.beside.hints:
        yield "<h3>Not reckoned</h3>" + _list(hint[0].upper() + hint[1:] for hint in made.beside.hints)


def _figure(name: str, svg: str, number: int) -> str:
    # Each drawing clips its own field, so the names must not meet on one page.
    own = svg.replace('id="field"', f'id="field{number}"').replace("url(#field)", f"url(#field{number})")
    kind = "" if name == "strips.svg" else " class='plot'"
    return f"<figure{kind}>{own}<figcaption>{escape(CAPTIONS.get(name, name))}</figcaption></figure>"


def _list(lines: Iterable[str]) -> str:
    return "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in lines) + "</ul>"


def _table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    head = "".join(f"<th scope='col'>{escape(heading)}</th>" for heading in headings)
    body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<div class='scroll'><table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
