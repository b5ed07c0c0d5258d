"""The pages of indications as parts of the HTML report."""

from collections.abc import Iterable, Mapping
from html import escape
from typing import Any

from etchbook.report.indication_page import IndicationPage


def indication_sections(pages: Iterable[IndicationPage], rest: Iterable[Mapping[str, str]]) -> str:
    """One section for each indication, and a table for those without a page of their own."""
    rows = list(rest)
    return "".join(_section(page) for page in pages) + (_others(rows) if rows else "")


def _section(page: IndicationPage) -> str:
    told, drawn = page.entries, page.drawings
    figures = "".join(
        f'<tr><th scope="row">{escape(row["label"])}</th><td>{escape(row["value"])}</td></tr>'
        for row in told["figures"]
    )
    parts = (
        f'<h2>{escape(told["title"])}</h2>\n<div class="verdict"><p>{escape(told["verdict"])}</p></div>\n',
        _figure(drawn, "crop", told["crop_caption"]),
        _figure(drawn, "close", told["close_caption"]),
        f'<table class="facts"><tbody>{figures}</tbody></table>\n',
        _figure(drawn, "profile", ""),
        _figure(drawn, "place", ""),
        f"<h3>Causes, with what speaks for and against</h3>{''.join(_cause(row) for row in told['causes'])}",
        f"<p>Unlikely as well: {escape(told['rest'])}.</p>" if told["rest"] else "",
        f"<p>Cannot be {escape(told['place'])}: {escape(told['ruled_out'])}.</p>" if told["ruled_out"] else "",
        _list(told["priors"]),
        _next(told),
        _advice(told),
        f'<div class="verdict"><p>{escape(told["caution"])}</p></div>\n',
    )
    return "".join(parts)


def _figure(drawn: Mapping[str, str], name: str, caption: str) -> str:
    if name not in drawn:
        return ""
    told = f"<figcaption>{escape(caption)}</figcaption>" if caption else ""
    return f"<figure>{drawn[name]}{told}</figure>\n"


def _cause(row: Mapping[str, Any]) -> str:
    listed = [f"for: {text}" for text in row["for"]] + [f"against: {text}" for text in row["against"]]
    shown = _list(listed) or "<p>Nothing that was seen speaks for or against it.</p>"
    return (
        f"<h4>{escape(row['word'])}: {escape(row['label'])}</h4>"
        f'<p class="soft">{escape(row["means"])} ({escape(row["chance"])})</p>{shown}'
    )


def _next(told: Mapping[str, Any]) -> str:
    body = f"<p>Looking further is hardly worth it: {escape(told['stop'])}.</p>" if told["stop"] else ""
    for row in told["tests"]:
        how = f" {escape(row['how'])}" if row["how"] else ""
        results = _list([f"if {text}" for text in row["results"]])
        body += f"<p><b>{escape(row['text'])}</b>{how} <small>({escape(row['source'])})</small></p>{results}"
    if told["question"]:
        body += f"<p>Question to answer next: {escape(told['question'])}</p>"
    return f"<h3>Next test</h3>{body or '<p>No test of the table would tell more.</p>'}"


def _advice(told: Mapping[str, Any]) -> str:
    rows = [f"bead: {told['bead']}"] if told["bead"] else []
    rows += [f"{row['kind']}: {row['text']} ({row['source']})" for row in told["advice"]]
    rows += [f"words of {row['by']}: {row['text']}" for row in told["words"]]
    return f"<h3>What to know</h3>{_list(rows)}" if rows else ""


def _others(rows: list[Mapping[str, str]]) -> str:
    body = "".join(
        f"<tr>{''.join(f'<td>{escape(row[key])}</td>' for key in ('name', 'what', 'length', 'verdict'))}</tr>"
        for row in rows
    )
    head = "".join(f'<th scope="col">{word}</th>' for word in ("indication", "what and where", "length", "so far"))
    return f"<h2>Further indications</h2><table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _list(items: list[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(item)}</li>' for item in items)}</ul>" if items else ""
