"""A second pair of eyes: one HTML file with pictures, measurements and questions that gives back a block of text."""

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from html import escape
from importlib import resources

import numpy as np

from etchbook.picture import NoScale, Picture
from etchbook.report.facts import day_words, scale_words
from etchbook.report.page import house_style
from etchbook.report.photos import photo_print
from etchbook.report.second_look_marks import mark_section
from etchbook.report.svg import Points, chain, element, printable
from etchbook.report.wording import JOINTS
from etchbook.section import Indication, Reading
from etchbook.usecases.answering import EVERY, HEAD
from etchbook.usecases.explaining import CAUTION, Explanation

FINGERPRINT = 16
"""Letters of the picture's SHA-256 that go into the block."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SecondLook:
    """What goes into the file.

    Parameters
    ----------
    reading : with its indications
    explained : one for each indication
    picture : the one that was read
    others : further pictures of the same place by title (the look before etching, a closer one)
    today : printed as the day of the file
    """

    reading: Reading
    explained: Sequence[Explanation]
    picture: Picture
    others: Mapping[str, Picture]
    today: date


def second_look(look: SecondLook) -> str:
    """One self-contained HTML file that a metallurgist anywhere opens without installing anything.

    Pictures are inside at their full size, made anew without what the camera wrote about place and owner. The page
    fetches nothing and keeps nothing; what it gives back is a block of text.
    """
    script = _held("second_look.js")
    seal = base64.b64encode(sha256(script.encode()).digest()).decode("ascii")
    policy = (
        f"default-src 'none'; script-src 'sha256-{seal}'; style-src 'unsafe-inline'; img-src data:; font-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    fingerprint = look.reading.picture.sha256[:FINGERPRINT]
    style = house_style() + _held("second_look.css")
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_text(f'Second look, {look.reading.picture.name}')}</title>\n"
        f"<style>\n{style}</style>\n</head>\n<body>\n"
        f'<main data-head="{HEAD}" data-reading="{fingerprint}">\n{"".join(_body(look))}</main>\n'
        f"<script>{script}</script>\n</body>\n</html>\n"
    )


def _held(name: str) -> str:
    return (resources.files("etchbook.report") / name).read_text(encoding="utf-8")


def _text(text: str) -> str:
    return escape(printable(text))


def _body(look: SecondLook) -> Sequence[str]:
    marks = [mark_section(item, found) for item, found in zip(look.explained, look.reading.indications, strict=True)]
    return (_head(look), _stand(look), *marks, _everything(), _back())


def _head(look: SecondLook) -> str:
    said = look.reading.preparation
    rows = (
        ("Joint", JOINTS[look.reading.joint.family]),
        ("Piece", said.specimen),
        ("Parent metal", said.material),
        ("Finish", said.finish),
        ("Etchant", said.etchant),
        ("Picture", f"{look.reading.picture.name}, {look.picture.width} × {look.picture.height} pixels"),
        ("Scale", scale_words(look.reading)),
    )
    facts = "".join(
        f'<tr><th scope="row">{label}</th><td>{_text(value) if value else "<i>not given</i>"}</td></tr>'
        for label, value in rows
    )
    return (
        f'<h1>A second look is asked for</h1>\n<p class="lead">{_text(look.reading.picture.name)} · '
        f"{day_words(look.today)}</p>\n"
        "<p>Somebody cut, polished and etched a weld, found marks on it, and would like to know how you see them. "
        "Look at the picture, tick what you can see or know, leave the rest open, and send back the block of text at "
        "the end. This file fetches nothing from outside, and what you tick stays on your machine.</p>\n"
        f'<div class="box"><p>{_text(CAUTION)}</p></div>\n'
        f'<table class="facts"><tbody>{facts}</tbody></table>\n'
    )


def _stand(look: SecondLook) -> str:
    sheets = [_sheet("0", look.picture, look.reading)]
    sheets += [_sheet(str(place), other, None) for place, other in enumerate(look.others.values(), 1)]
    flags = "".join(
        _flag(item.indication, found) for item, found in zip(look.explained, look.reading.indications, strict=True)
    )
    words = [
        ("closer", "Closer"),
        ("further", "Further"),
        ("whole", "The whole picture"),
        ("pixels", "Pixel for pixel"),
        ("lines", "Hide the lines"),
    ]
    acts = "".join(f'<button type="button" data-act="{act}">{word}</button>' for act, word in words)
    acts += "".join(
        f'<button type="button" data-window="{_window(found, look.picture)}">Go to {_text(item.indication)}</button>'
        for item, found in zip(look.explained, look.reading.indications, strict=True)
        if len(found.points)
    )
    return (
        f"<h2>The picture</h2>\n{_choices(look)}"
        '<div class="stand" tabindex="0" role="img" aria-label="The picture; move it with the arrow keys, + and −, '
        f'0 for the whole">{"".join(sheets)}{flags}<div class="scale"></div></div>\n'
        f'<div class="words">{acts}</div>\n'
        '<p class="soft">Drag to move, wheel or two fingers to come closer. The dotted line is what the program '
        "traced; hide it to see what lies under it.</p>\n"
    )


def _choices(look: SecondLook) -> str:
    if not look.others:
        return ""
    names = ["the picture that was read", *look.others]
    words = "".join(
        f'<button type="button" data-choose="{place}">{_text(name)}</button>' for place, name in enumerate(names)
    )
    return f'<div class="words">{words}</div>\n'


def _sheet(name: str, picture: Picture, reading: Reading | None) -> str:
    photo = photo_print(picture, longest=max(picture.width, picture.height))
    scale = "" if reading is None or isinstance(reading.scale, NoScale) else f"{reading.scale.px_per_mm:.4f}"
    drawn = "" if reading is None else _traced(reading, picture)
    return (
        f'<div class="sheet" data-sheet="{name}" data-width="{picture.width}" data-height="{picture.height}" '
        f'data-scale="{scale}"><img alt="" src="{photo.href}">{drawn}</div>'
    )


def _traced(reading: Reading, picture: Picture) -> str:
    """Every traced line as dots on a dark rim, so that the metal between the dots stays visible."""
    paths = [chain(points + 0.5) for found in reading.indications for points in (found.points, *found.others)]
    body = "".join(
        element("path", class_="rim", d=path) + element("path", class_="ink", d=path) for path in paths if path
    )
    return element("svg", body, viewBox=f"0 0 {picture.width} {picture.height}", preserveAspectRatio="none")


def _flag(name: str, found: Indication) -> str:
    if not len(found.points):
        return ""
    x, y = found.points[int(np.argmin(found.points[:, 1]))]
    return f'<div class="flag" data-sheet="0" data-x="{x:.0f}" data-y="{y:.0f}">{_text(name)}</div>'


def _window(found: Indication, picture: Picture) -> str:
    """The part of the picture around an indication, as its four sides [px]."""
    points: Points = np.concatenate([found.points, *found.others])
    low, high = points.min(axis=0), points.max(axis=0)
    room = max(float((high - low).max()) * 0.08, 40.0)
    left, top = np.maximum(low - room, 0)
    right, bottom = np.minimum(high + room, [picture.width, picture.height])
    return f"{left:.0f} {top:.0f} {right:.0f} {bottom:.0f}"


def _everything() -> str:
    return (
        '<section class="mark"><h2>Anything else</h2>\n<label for="words_all">What you would like to say of the '
        f'piece as a whole</label>\n<textarea id="words_all" data-of="{EVERY}" maxlength="2000"></textarea></section>\n'
    )


def _back() -> str:
    return (
        '<section class="mark"><h2>Send back</h2>\n'
        '<p><label for="by">Your code or initials; your answers will be weighed and shown under it</label></p>\n'
        '<input class="code" type="text" id="by" maxlength="40" autocomplete="off">\n'
        '<div class="words"><button type="button" id="make">Make the block of text</button>'
        '<button type="button" id="copy">Copy it</button></div>\n'
        '<p class="asks" id="ask" role="status"></p>\n'
        '<label for="block">The block</label>\n<textarea id="block" readonly spellcheck="false"></textarea></section>\n'
    )
