"""The followed lines as one HTML page that needs nothing from outside and flickers without a script."""

import base64
from collections.abc import Sequence
from html import escape

from PIL import Image

from etchbook.report.follow_frames import HOLD_MS, panel_jpeg, panels
from etchbook.report.page import house_style
from etchbook.usecases.followed import Story
from etchbook.usecases.following import Following
from etchbook.usecases.following_words import BOUND, ORDER, change_words, heading, placed_words


def following_page(following: Following, told: Sequence[Story]) -> str:
    """One page: the pictures flickering, side by side, what became of each line, and how far it can be trusted."""
    drawn = panels(following, told)
    shown = [frame for frame in following.frames if frame.known]
    alts = [f"picture {heading(frame)}" for frame in shown]
    body = "".join(
        (
            "<h1>The same face, picture by picture</h1>\n", _flicker(drawn, alts), _table(following, told),
            _meaning(told), "<h2>Side by side</h2>\n", _beside(drawn, alts), _placed(following),
        )
    )  # fmt: skip
    policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:"
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>The same face, {len(following.frames)} pictures</title>\n"
        f"<style>\n{house_style()}{_moving(len(drawn))}</style>\n</head>\n<body>\n<main>\n{body}</main>\n</body>\n</html>\n"
    )


def _moving(count: int) -> str:
    """Each picture is opaque for its turn; who wants no motion sees the first and can point at the stack to hold it."""
    turn = HOLD_MS / 1000
    share = 100 / count
    rules = "".join(
        f".flick img:nth-child({k + 1}) {{ animation-delay: {(k - count) * turn:.2f}s; }}\n" for k in range(count)
    )
    return (
        ".flick { position: relative; }\n.flick img { width: 100%; display: block; }\n"
        ".flick img + img { position: absolute; inset: 0; }\n"
        f".flick img {{ animation: turn {count * turn:.2f}s steps(1) infinite both; }}\n"
        f"@keyframes turn {{ 0% {{ opacity: 1; }} {share:.3f}% {{ opacity: 0; }} 100% {{ opacity: 0; }} }}\n{rules}"
        ".flick:hover img { animation-play-state: paused; }\n"
        ".beside { display: flex; flex-wrap: wrap; gap: 0.6rem; }\n.beside img { width: calc(50% - 0.3rem); }\n"
        "@media (prefers-reduced-motion: reduce) { .flick img { animation: none; } .flick img + img { opacity: 0; } }\n"
    )


def _image(panel: Image.Image, alt: str) -> str:
    held = base64.b64encode(panel_jpeg(panel)).decode("ascii")
    return f'<img alt="{escape(alt, quote=True)}" src="data:image/jpeg;base64,{held}">'


def _flicker(drawn: Sequence[Image.Image], alts: Sequence[str]) -> str:
    images = "".join(_image(panel, alt) for panel, alt in zip(drawn, alts, strict=True))
    caption = "The pictures in turn, each laid on A; rest the pointer on them to hold one."
    return f'<figure><div class="flick">{images}</div><figcaption>{caption}</figcaption></figure>\n'


def _beside(drawn: Sequence[Image.Image], alts: Sequence[str]) -> str:
    images = "".join(_image(panel, alt) for panel, alt in zip(drawn, alts, strict=True))
    return f'<div class="beside">{images}</div>\n'


def _table(following: Following, told: Sequence[Story]) -> str:
    if not told:
        return "".join(f"<p>{escape(note)}</p>\n" for note in following.notes)
    head = "".join(f'<th scope="col">{escape(frame.name)}</th>' for frame in following.frames)
    rows = "".join(
        f'<tr><th scope="row">{escape(story.track.name)}</th>'
        + "".join(f"<td>{escape(change_words(change))}</td>" for change in story.changes)
        + "</tr>"
        for story in told
    )
    return (
        "<h2>What became of each line</h2>\n"
        f"<table><thead><tr><th></th>{head}</tr></thead><tbody>{rows}</tbody></table>\n"
    )


def _meaning(told: Sequence[Story]) -> str:
    items = "".join(
        f"<li><b>{escape(story.track.name)}</b>: {escape(sentence)}</li>"
        for story in told
        for sentence in story.meaning
    )
    if not items:
        return ""
    note = "A picture alone proves neither a lamination nor a crack; weigh these with <code>etchbook line</code>."
    return f"<h2>What follows from it</h2>\n<ul>{items}</ul>\n<p>{note}</p>\n"


def _placed(following: Following) -> str:
    items = "".join(
        f"<li><b>{escape(heading(frame))}</b>: {escape(placed_words(frame))}.</li>" for frame in following.frames
    )
    return f"<h2>How the pictures lie on each other</h2>\n<ul>{items}</ul>\n<p>{escape(BOUND)} {escape(ORDER)}</p>\n"
