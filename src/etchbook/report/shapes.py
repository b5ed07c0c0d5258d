"""A shape for each verdict, told apart without any colour."""

from etchbook.acceptance.records import Verdict
from etchbook.report.svg import element

_INK = "#1d2422"
_RING = element("circle", cx=8, cy=8, r=6, fill="none", stroke=_INK, stroke_width=1.5)


def _line(path: str, width: float = 1.8) -> str:
    return element("path", d=path, fill="none", stroke=_INK, stroke_width=width, stroke_linecap="round")


_DRAWN = {
    Verdict.MET: element("circle", cx=8, cy=8, r=6.6, fill=_INK),
    Verdict.NOT_MET: element("path", d="M2 2H14V14H2Z", fill="none", stroke=_INK, stroke_width=1.5)
    + _line("M5 5L11 11M11 5L5 11"),
    Verdict.TOO_CLOSE: _RING + element("path", d="M8 2A6 6 0 0 0 8 14Z", fill=_INK),
    Verdict.ONLY_IF_SHORT: _RING + _line("M5.4 8H10.6", 2.4),
    Verdict.NOT_READABLE: element(
        "circle", cx=8, cy=8, r=6, fill="none", stroke=_INK, stroke_width=1.5, stroke_dasharray="2.2 2.5"
    ),
    Verdict.DOES_NOT_APPLY: _line("M3 8H13", 1.4),
}


def shape_svg(verdict: Verdict) -> str:
    """The shape of a verdict as a small SVG; the word always stands beside it."""
    return element(
        "svg",
        _DRAWN[verdict],
        xmlns="http://www.w3.org/2000/svg",
        viewBox="0 0 16 16",
        width="16",
        height="16",
        aria_hidden="true",
    )


def slug(verdict: Verdict) -> str:
    """The verdict as part of a file name."""
    return str(verdict).replace(" ", "_")
