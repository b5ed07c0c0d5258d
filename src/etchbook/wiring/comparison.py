"""The verb ``compare``: two groups of beads, from files, from the book or from readings at hand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from etchbook.evidence import Answer
from etchbook.procedure.heat_flow import Coupon
from etchbook.quantity import Absent
from etchbook.trials.scatter import Scatter
from etchbook.usecases import RefusedError
from etchbook.usecases.comparing import BeadReadings, Comparison, Row, compare
from etchbook.usecases.comparing_words import comparison_document, verdict_words, view_lines
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.scatters import scatter_for
from etchbook.wiring.compared import compare_page, compare_pages, coupon_of, groups_from, groups_in
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import json_bytes

HEIGHT = "excess_weld_metal"
ENDINGS = (".html", ".pdf", ".json")


@dataclass(frozen=True, kw_only=True, slots=True)
class Wish:
    """What is asked of a comparison.

    Parameters
    ----------
    names : of the groups
    under_test : the setting that was meant to differ
    on : the dimension in question; convexity or excess weld metal where ""
    scatter, scatter_dof : of that dimension from bead to bead, as the person says
    margin : differences of it up to this are of no consequence
    margins : the same for further dimensions
    welding : mechanised or hand
    """

    names: tuple[str, str] = ("a", "b")
    under_test: str = ""
    on: str = ""
    scatter: float | None = None
    scatter_dof: float | None = None
    margin: float | None = None
    margins: Mapping[str, float] | None = None
    welding: str = ""


class ComparisonView:
    """Two groups of beads compared: in words when printed, drawn in a notebook, kept as a page.

    `made` is the frozen record with everything in it, `question` the dimension it is about.
    """

    __slots__ = ("made", "question")

    def __init__(self, made: Comparison, question: str) -> None:
        self.made = made
        self.question = question

    @property
    def rows(self) -> Mapping[str, Row]:
        """Every dimension by id: both means, `.difference` with its views, or why there is none."""
        return {row.dimension: row for row in self.made.rows}

    @property
    def words(self) -> str:
        """What is said of the dimension in question."""
        return verdict_words(self.rows[self.question])

    @property
    def drawings(self) -> Mapping[str, bytes]:
        """SVG by file name: outlines, dot strips, run order, over the start temperature."""
        return compare_pages(self.made, self.question)

    def page(self, kind: str) -> bytes:
        """The comparison as html, pdf or json."""
        if kind == "json":
            return json_bytes(comparison_document(self.made, self.question))
        return compare_page(self.made, self.question, self.drawings, kind=kind)

    def save(self, path: str | Path) -> Path:
        """Write one page, its kind told by the name's ending: .html, .pdf or .json."""
        FilesDesk().keep({str(path): self.page(page_kind(str(path)))})
        return Path(path)

    def _repr_html_(self) -> str:
        from html import escape

        svg = self.drawings.get("outlines.svg", b"").decode()
        return f"<p>{escape(self.words)}</p>{svg}"

    def __repr__(self) -> str:
        return "\n".join([self.words, *(f"  {line}" for line in view_lines(self.rows[self.question]))])


def page_kind(path: str) -> str:
    """The kind of page that a file name's ending asks for."""
    for ending in ENDINGS:
        if path.lower().endswith(ending):
            return ending[1:]
    raise RefusedError(f"no comparison can be written to {path}: end its name in one of {', '.join(ENDINGS)}")


def compared(
    a: Sequence[BeadReadings], b: Sequence[BeadReadings], wish: Wish, own: Mapping[str, Scatter] | None = None
) -> ComparisonView:
    """Compare two groups of beads.

    Parameters
    ----------
    a, b : beads with their readings and settings
    wish : what is asked
    own : the book's own scatter by dimension
    """
    question = wish.on or _usual(a[0].sections[0][0].joint.family)
    known = dict(own or {})
    if wish.scatter is not None or wish.scatter_dof is not None:
        said = scatter_for(question, wish.scatter, wish.scatter_dof, wish.welding)
        known |= {} if said is None else {question: said}
    coupon, taken = coupon_for(a)
    margins = {**(wish.margins or {}), **({} if wish.margin is None else {question: wish.margin})}
    made = compare(a, b, names=named(wish.names), scatter=known, welding=wish.welding, margins=margins,
                   under_test=wish.under_test, coupon=coupon, taken=taken)  # fmt: skip
    read = [row.dimension for row in made.rows]
    if question not in read:
        raise RefusedError(f"{question} was read on no bead; read were {', '.join(read) or 'none'}")
    return ComparisonView(made, question)


def usual_and_odd(usual: Sequence[str], odd: Sequence[str], book: str | None) -> tuple[tuple[Answer, ...], list[str]]:
    """What usual and odd beads answer by themselves about the causes, and whether they differ at all, in words."""
    if not usual or not odd:
        raise RefusedError("name at least one usual bead and one odd one")
    groups, own = groups_from(usual, odd, {}, book)
    return answered_by(groups[0], groups[1], own)


def both_in(
    store: BookStore, usual: Sequence[str], odd: Sequence[str]
) -> tuple[list[tuple[BeadReadings, ...]], dict[str, Scatter]] | None:
    """Usual and odd beads out of an open book with the book's own scatter; None where none are named."""
    if not usual and not odd:
        return None
    if not usual or not odd:
        raise RefusedError("name at least one usual bead and one odd one, or none at all")
    return groups_in(store, usual, odd)


def answered_by(
    usual: Sequence[BeadReadings], odd: Sequence[BeadReadings], own: Mapping[str, Scatter]
) -> tuple[tuple[Answer, ...], list[str]]:
    """What groups of beads answer by themselves, and whether they differ at all."""
    view = compared(usual, odd, Wish(names=("usual", "odd")), own)
    told = [view.words]
    found = view.rows[view.question].difference
    if not isinstance(found, Absent) and found.verdict in ("no difference shown", "practically none"):
        told.append("So far there may be nothing to explain: the causes below are weighed as if there were.")
    return view.made.answers, told


def coupon_for(beads: Sequence[BeadReadings]) -> tuple[Coupon | Absent, str]:
    """Plate and heat of the first bead of a group that tells them, or what is missing."""
    found = [coupon_of(bead) for bead in beads]
    return next((each for each in found if isinstance(each[0], Coupon)), found[0])


def _usual(family: str) -> str:
    return "convexity" if family in ("tee", "lap", "corner") else HEIGHT


def named(names: Any) -> tuple[str, str]:
    """Two different names of groups, from a pair or a text with a comma."""
    parts = names.split(",") if isinstance(names, str) else list(names)
    told = [str(part).strip() for part in parts]
    if len(told) != 2 or not all(told) or told[0] == told[1]:
        raise RefusedError(f"the names are two different names with a comma between them, not {names!r}")
    return told[0], told[1]


def margins_in(logged: Mapping[str, Any]) -> dict[str, float]:
    """The table ``[margin]`` of a settings file."""
    held = logged.get("margin", {})
    if not isinstance(held, dict) or not all(isinstance(value, int | float) for value in held.values()):
        raise RefusedError("[margin] is a table of numbers by dimension")
    return dict(held)
