"""What a request finds at the bench: the book, the jobs that run, and how pages are drawn."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.usecases.keeping.telling import kept, line_of, setting, step
from etchbook.web.jobs import Jobs
from etchbook.web.lan import Lan
from etchbook.web.menu import MENU, is_here
from etchbook.wiring import shelf
from etchbook.wiring.devices import Devices
from etchbook.wiring.drafts import Drafts


def _pages() -> Environment:
    made = Environment(
        loader=PackageLoader("etchbook.web"),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals.update(line_of=line_of, setting_words=setting, step_words=step, kept=kept, menu=MENU, is_here=is_here)
    return made


@dataclass(frozen=True, kw_only=True, slots=True)
class Bench:
    """One bench: its book, its jobs, who was let in, what waits; `lan` is None where no other machine is answered."""

    folder: Path
    store: BookStore
    jobs: Jobs
    devices: Devices
    drafts: Drafts
    lan: Lan | None = None
    pages: Environment = field(default_factory=_pages)


def get_bench(request: Request) -> Bench:
    """The bench that a request came to."""
    bench: Bench = request.app.state.bench
    return bench


def get_book(request: Request) -> BookStore:
    """The book of the bench that a request came to."""
    return get_bench(request).store


def hand_of(request: Request) -> Hand:
    """Who is at work: the name that the browser keeps, else the device's, else whoever started the bench."""
    device = request.state.device
    return shelf.hand(request.cookies.get("etchbook_by", "")[:40] or (device.name if device else ""))


def page(request: Request, name: str, *, status: int = 200, **shown: Any) -> HTMLResponse:
    """Draw a page.

    Parameters
    ----------
    name : of the template
    shown : what the template shows besides the book's name, the session's token, and what was typed and refused;
        `as_seen` holds what a page of another session was drawn from, such as an edition, so that none is overwritten
    """
    bench = get_bench(request)
    usual = {
        "book": bench.store.book,
        "token": request.state.token,
        "path": request.url.path,
        "by": hand_of(request).by,
        "at_home": request.state.at_home,
        "said": getattr(request.state, "said", {}),
        "as_seen": getattr(request.state, "as_seen", {}),
        "trouble": getattr(request.state, "trouble", None),
    }
    return HTMLResponse(bench.pages.get_template(name).render(**{**usual, **shown}), status_code=status)


def in_place(request: Request) -> bool:
    """Whether a part of a page is asked for, to be put in place, and not the whole page."""
    return request.headers.get("hx-request") == "true"
