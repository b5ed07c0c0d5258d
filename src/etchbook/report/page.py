"""The report as one HTML page that needs nothing from outside."""

import base64
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from html import escape
from importlib import resources
from typing import Any

from etchbook.acceptance.records import Judgement, Verdict
from etchbook.picture import Picture
from etchbook.report.contents import contents
from etchbook.report.cut_sketch import cut_sketch
from etchbook.report.drawing import drawing_svg
from etchbook.report.facts import Issue
from etchbook.report.indication_html import indication_sections
from etchbook.report.indication_page import indication_pages
from etchbook.report.overlay import overlay_svg, weld_window
from etchbook.report.shapes import shape_svg, slug
from etchbook.section import Reading
from etchbook.usecases.explaining import Explanation

_SHAPES = {slug(verdict): shape_svg(verdict) for verdict in Verdict}
Row = Mapping[str, str]


def page(
    reading: Reading,
    picture: Picture,
    judgement: Judgement | None = None,
    *,
    today: date,
    explained: Sequence[Explanation] | None = None,
) -> str:
    """The report as one self-contained HTML file: the same entries as the PDF, in the same order.

    Parameters
    ----------
    reading, picture : the reading and its photo
    judgement : what it was held against, where it was
    today : printed as the day of the report
    explained : one for each indication; without them indications get no section
    """
    window = weld_window(reading)
    told = contents(Issue(reading=reading, judgement=judgement, window=window, today=today))
    photo = overlay_svg(reading, picture, window=window, longest=1900)
    marks = "" if explained is None else indication_sections(*indication_pages(reading, explained, picture))
    said = reading.preparation
    drawings = drawing_svg(reading), cut_sketch(said.cut, said.specimen)
    body = "".join((_head(told), _photo(told, photo), *_sections(told, drawings, marks)))
    title = f"{told['title']}, {told['picture']}"
    # The page may run no script and fetch nothing, whatever a name in it should hold.
    policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:"
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>\n{house_style()}</style>\n</head>\n<body>\n<main>\n{body}</main>\n</body>\n</html>\n"
    )


def house_style() -> str:
    """Our typeface and the look of a page, as the text of one style sheet that needs nothing from outside."""
    room = resources.files("etchbook.report")
    faces = "".join(
        f'@font-face {{ font-family: B612; font-weight: {weight}; src: url("data:font/otf;base64,'
        f'{base64.b64encode((room / "fonts" / name).read_bytes()).decode("ascii")}") format("opentype"); }}\n'
        for name, weight in (("B612-Regular.otf", 400), ("B612-Bold.otf", 700))
    )
    return faces + (room / "page.css").read_text(encoding="utf-8")


def _head(told: Mapping[str, Any]) -> str:
    line = " · ".join(part for part in (told["joint"], told["specimen"], told["picture"], told["date"]) if part)
    counts = "".join(
        f"<li>{_SHAPES[row['shape']]} {escape(row['count'])} {escape(row['word'])}</li>" for row in told["counts"]
    )
    shown = f"<ul>{counts}</ul>" if counts else ""
    return (
        f'<h1>{escape(told["title"])}</h1>\n<p class="lead">{escape(line)}</p>\n'
        f'<div class="verdict"><p>{escape(told["summary"])}</p>{shown}</div>\n'
    )


def _photo(told: Mapping[str, Any], photo: str) -> str:
    key = "".join(f"<div><dt>{escape(row['label'])}</dt><dd>{escape(row['value'])}</dd></div>" for row in told["key"])
    numbers = (
        f'<dl class="key">{key}</dl><p class="soft">Each with its expanded uncertainty, 95 % coverage.</p>'
        if key
        else ""
    )
    first = "".join(f"<li>{_verdict(row)}: {escape(row['words'])}</li>" for row in told["first"])
    first += "".join(
        f"<li><b>Look again, {escape(row['part'])}</b>: {escape(row['reason'])}</li>" for row in told["doubts"][:3]
    )
    asked = f'<ul class="first">{first}</ul>' if first else ""
    return f"<figure>{photo}<figcaption>{escape(told['photo_caption'])}</figcaption></figure>\n{numbers}{asked}\n"


def _verdict(row: Row) -> str:
    return f"{_SHAPES[row['shape']]} <b>{escape(row['verdict'])}</b>"


def _drawing(told: Mapping[str, Any], drawing: str) -> str:
    caption = escape(told["drawing_caption"])
    return f"<h2>The section</h2>\n<figure>{drawing}<figcaption>{caption}</figcaption></figure>\n"


def _sections(told: Mapping[str, Any], drawings: tuple[str, str], marks: str) -> Iterable[str]:
    sketch = f"<figure>{drawings[1]}<figcaption>{escape(told['cut_caption'])}</figcaption></figure>"
    yield _section("What was examined, and how", _facts(told["facts"]) + sketch)
    yield _drawing(told, drawings[0])
    yield _section("Dimensions", _dimensions(told["dimensions"]))
    absent = [f"<b>{escape(row['reason'])}</b>: {escape(row['what'])}" for row in told["absent"]]
    yield _section("What could not be read, and why", _list(absent, "Every dimension of this joint was read."))
    if told["against"]:
        yield _section(f"Limits: {told['against']}", _limits(told))
    yield marks
    doubts = [
        f"<b>{escape(row['part'])}</b>: {escape(row['reason'])} {escape(row['remedy'])}" for row in told["doubts"]
    ]
    sure = "No part of the outline is doubtful by the program's own measure."
    yield _section("Doubts", _list(doubts, sure) + f"<p>{escape(told['corrections'])}</p>")
    if told["notes"]:
        yield _section("Notes", _list([escape(note) for note in told["notes"]]))
    cautions = _list([escape(caution) for caution in told["cautions"]])
    yield _section("What one section can say", f"<p>{escape(told['one_section'])}</p>{cautions}")
    yield _section("How this report was made", _facts(told["made"], "hash"))


def _section(heading: str, body: str) -> str:
    return f"<h2>{escape(heading)}</h2>\n{body}\n"


def _list(items: list[str], otherwise: str = "") -> str:
    if not items:
        return f"<p>{escape(otherwise)}</p>" if otherwise else ""
    return "<ul>" + "".join(f"<li>{item}</li>" for item in items) + "</ul>"


def _facts(rows: Iterable[Row], kind: str = "") -> str:
    def cell(row: Row) -> str:
        style = kind if row.get("given", "yes") else "none"
        return f'<td class="{style}">{escape(row["value"])}</td>' if style else f"<td>{escape(row['value'])}</td>"

    body = "".join(f'<tr><th scope="row">{escape(row["label"])}</th>{cell(row)}</tr>' for row in rows)
    return f'<table class="facts"><tbody>{body}</tbody></table>'


def _table(headings: Iterable[tuple[str, str]], rows: Iterable[str]) -> str:
    head = "".join(f'<th scope="col" class="{style}">{escape(word)}</th>' for word, style in headings)
    return f'<div class="scroll"><table><thead><tr>{head}</tr></thead><tbody>{"".join(rows)}</tbody></table></div>'


def _dimensions(rows: list[Row]) -> str:
    if not rows:
        return "<p>No dimension could be read.</p>"
    return dimension_table(rows)


def dimension_table(rows: Iterable[Row]) -> str:
    """Rows of `contents()["dimensions"]` as an HTML table."""
    headings = (
        ("dimension", ""),
        ("", ""),
        ("value", "n"),
        ("± U", "n"),
        ("unit", ""),
        ("k", ""),
        ("how it is taken", ""),
    )
    body = (
        f'<tr><th scope="row">{escape(row["label"])}</th><td><i>{escape(row["symbol"])}</i></td>'
        f'<td class="n"><b>{escape(row["value"])}</b></td><td class="n">{escape(row["spread"])}</td>'
        f"<td>{escape(row['unit'])}</td><td>{escape(row['k'])}</td><td><small>{escape(row['how'])}</small></td></tr>"
        for row in rows
    )
    return _table(headings, body)


def _limits(told: Mapping[str, Any]) -> str:
    risk = f"<p>Risk of a wrong verdict: at most {escape(told['risk'])}; the uncertainty of the value is counted.</p>"
    headings = (("verdict", ""), ("limit on", ""), ("value, figure of the limit, where it stands", ""))
    judged = _table(headings, (_limit(row) for row in told["findings"])) if told["findings"] else ""
    unread = [
        f"<b>{escape(row['item'])}</b>: {escape(row['reason'])} <small>(limit: {escape(row['limit'])})</small>"
        for row in told["unreadable"]
    ]
    other = [f"<b>{escape(row['reason'])}</b>: {escape(row['what'])}" for row in told["elsewhere"]]
    means = [f"{_SHAPES[row['shape']]} <b>{escape(row['word'])}</b>: {escape(row['means'])}" for row in told["legend"]]
    return "".join(
        (
            risk + judged,
            _part("Not readable here: look yourself, or have it tested otherwise", unread),
            _part("Does not apply", other),
            _part("About the verdicts", [escape(note) for note in told["judgement_notes"]] + means),
        )
    )


def _part(heading: str, items: list[str]) -> str:
    return f"<h3>{escape(heading)}</h3>{_list(items)}" if items else ""


def _limit(row: Row) -> str:
    limit = f"{escape(row['item'])}<small>{escape(row['dimension'])}</small>"
    figure = f"<b>{escape(row['value'])}</b>; limit: {escape(row['formula'])}<small>{escape(row['words'])}</small>"
    return f"<tr><td>{_verdict(row)}</td><td>{limit}</td><td>{figure}</td></tr>"
