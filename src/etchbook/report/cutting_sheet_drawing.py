"""A coupon seen from above with its cuts, in the manner of a workshop sketch on squared paper."""

from etchbook.preparation import CutPlan, PlannedPiece
from etchbook.report.cutting_sheet_paper import BELOW, END_VIEW, WIDTH, SheetPaper, ruling, sheet_paper
from etchbook.report.cutting_sheet_side import end_view
from etchbook.report.cutting_sheet_words import cuts_text, mm, title
from etchbook.report.paper import SQUARE
from etchbook.report.svg import document, element, number, words

INK, PENCIL, MEASURE, GROUND = "#1d2422", "#5b6664", "#1f3f7a", "#fdfcf8"
TYPE = 2.9
"""Type size on the drawing [mm]."""

THINNEST = 0.35
"""A cut is never drawn thinner than this [mm]."""

LETTER_ROOM, WORD_ROOM = 3.0, 17.0


def cutting_svg(plan: CutPlan) -> str:
    """The plan of cuts as a line drawing to scale, 250 mm wide.

    Parameters
    ----------
    plan : the plan; cuts are drawn at their true width where that can be seen, and never thinner than a pen

    Returns
    -------
    str
        A whole SVG document with title and description.
    """
    paper = sheet_paper(plan)
    body = [element("rect", width=WIDTH, height=paper.height, fill=GROUND), ruling(paper.height)]
    body += [_coupon(plan, paper), _weld(plan, paper)]
    body += [_piece(piece, paper) for piece in plan.pieces]
    body += [_cut(plan, n, paper) for n in range(len(plan.cuts))]
    body += [_section(plan, n, paper) for n in range(len(plan.sections))]
    told = [held.at for held in plan.sections if held.through_stop]
    body += [_stop(place, paper, named=place not in told) for place in plan.wish.start_stops]
    body += [_ruler(plan, paper), _heading(plan, paper), end_view(plan, paper.height - END_VIEW)]
    size = f"{WIDTH:.0f}mm", f"{paper.height:.0f}mm"
    return document(body, (WIDTH, paper.height), size, title(plan), cuts_text(plan))


def _path(d: str, *, stroke: str, stroke_width: float, **style: str) -> str:
    return element("path", d=d, fill="none", stroke=stroke, stroke_width=stroke_width, **style)


def _coupon(plan: CutPlan, paper: SheetPaper) -> str:
    """The coupon in outline; a side that runs on is left open and wavy."""
    left, right = paper.x(0.0), paper.x(plan.wish.length)
    told = _path(f"M{number(left)} {number(paper.top)}V{number(paper.bottom)}", stroke=INK, stroke_width=0.45)
    told += _path(f"M{number(right)} {number(paper.top)}V{number(paper.bottom)}", stroke=INK, stroke_width=0.45)
    for y in (paper.top, paper.bottom):
        told += _path(
            _wave(left, right, y) if paper.broken else f"M{number(left)} {number(y)}H{number(right)}",
            stroke=INK,
            stroke_width=0.45,
        )
    return told


def _wave(left: float, right: float, y: float) -> str:
    count = max(round((right - left) / 12), 2)
    step = (right - left) / count
    return f"M{number(left)} {number(y)}" + "".join(
        f"q{number(step / 2)} {1.6 if n % 2 else -1.6} {number(step)} 0" for n in range(count)
    )


def _weld(plan: CutPlan, paper: SheetPaper) -> str:
    """The weld as a hatched band along the middle, and the edge of the member that stands or lies on it."""
    left, right, y, half = paper.x(0.0), paper.x(plan.wish.length), paper.middle, 1.5
    edges = [y - half, y + half]
    if plan.wish.family == "tee":
        edges.append(y - half - (plan.wish.thickness_2 or plan.wish.thickness_1) * paper.scale)
    told = _path("".join(f"M{number(left)} {number(at)}H{number(right)}" for at in edges), stroke=INK, stroke_width=0.3)
    count = int((right - left) / 1.6)
    arcs = "".join(f"M{number(left + 1.2 + 1.6 * n)} {number(y - half)}q1.1 {half} 0 {2 * half}" for n in range(count))
    return told + _path(arcs, stroke=PENCIL, stroke_width=0.2)


def _piece(piece: PlannedPiece, paper: SheetPaper) -> str:
    """Letter and use; what is discarded is crossed out."""
    left, right = paper.x(piece.start), paper.x(piece.end)
    middle, room = (left + right) / 2, right - left
    y = (paper.middle + paper.bottom) / 2 + 1.5
    told = ""
    if piece.use == "discard":
        told += _path(
            f"M{number(left)} {number(paper.top)}L{number(right)} {number(paper.bottom)}"
            f"M{number(right)} {number(paper.top)}L{number(left)} {number(paper.bottom)}",
            stroke=PENCIL,
            stroke_width=0.25,
        )
    size = 5.0 if room >= LETTER_ROOM else 2.4
    told += text(piece.letter, middle, y, INK, size=size, weight="bold")
    if room >= WORD_ROOM:
        told += text(
            {"reserve": "other half", "test": "other test", "discard": "discard", "section": "section"}.get(
                piece.use, "spare"
            ),
            middle,
            y + 4.0,
            PENCIL,
            size=2.5,
        )
    return told


def _cut(plan: CutPlan, n: int, paper: SheetPaper) -> str:
    """The blade's way, its number, and the two edges of the cut in millimetres from the start."""
    cut = plan.cuts[n]
    x, width = paper.x(cut.at), max((cut.end - cut.start) * paper.scale, THINNEST)
    top, bottom = paper.top - 2.0, paper.bottom + 2.0
    told = element("rect", x=x - width / 2, y=top, width=width, height=bottom - top, fill=INK)
    told += text(str(cut.number), x, bottom + 3.2, INK, size=TYPE, weight="bold")
    y = bottom + 4.6
    turned = words(f"{mm(cut.start)}–{mm(cut.end)}", 0, 0, font_size=2.6, fill=INK, text_anchor="end")
    return told + element("g", turned, transform=f"translate({number(x + 0.95)} {number(y)}) rotate(-90)")


def _section(plan: CutPlan, n: int, paper: SheetPaper) -> str:
    """The plane that will be read: a line with a point at each end, and its place."""
    held = plan.sections[n]
    x = paper.x(held.at)
    high = paper.top - (8.2 if n % 2 else 4.6)
    told = _path(
        f"M{number(x)} {number(high + 1.2)}V{number(paper.bottom - 0.8)}",
        stroke=MEASURE,
        stroke_width=0.3,
        stroke_dasharray="2.4 0.8 0.4 0.8",
    )
    told += "".join(element("circle", cx=x, cy=y, r=0.62, fill=MEASURE) for y in (high + 1.2, paper.bottom - 0.8))
    stop = ", stop/start" if held.through_stop else ""
    letter = held.piece.rpartition("-")[2]
    return told + text(f"section {held.number} on {letter}: {mm(held.at)} mm{stop}", x, high, MEASURE)


def _stop(place: float, paper: SheetPaper, *, named: bool) -> str:
    """A stop and start on the weld: a small open triangle, with words where no section names it."""
    x = paper.x(place)
    mark = _path(
        f"M{number(x - 1.6)} {number(paper.middle - 4.6)}h3.2l-1.6 2.8Z",
        stroke=INK,
        stroke_width=0.35,
        stroke_linejoin="round",
    )
    return mark + (text("stop/start", x + 2.2, paper.middle - 2.6, INK, size=2.5, anchor="start") if named else "")


def _ruler(plan: CutPlan, paper: SheetPaper) -> str:
    """A rule along the coupon, numbered from the start of the weld."""
    y = paper.bottom + BELOW - 6.0
    left, right = paper.x(0.0), paper.x(plan.wish.length)
    step = next((s for s in (10.0, 20.0, 50.0, 100.0, 200.0, 500.0) if s * paper.scale >= 12.0), 1000.0)
    told = _path(f"M{number(left)} {number(y)}H{number(right)}", stroke=INK, stroke_width=0.3)
    for n in range(int(plan.wish.length / step) + 1):
        x = paper.x(n * step)
        told += _path(f"M{number(x)} {number(y)}v1.6", stroke=INK, stroke_width=0.3)
        told += text(mm(n * step), x, y + 4.2, INK, size=2.5)
    return told + text("mm from the start of the weld", (left + right) / 2, y - 1.2, PENCIL, size=2.5)


def _heading(plan: CutPlan, paper: SheetPaper) -> str:
    told = f"from above; {paper.ratio}; the width of the weld is not drawn to scale"
    if paper.broken:
        told += f"; the coupon is {plan.wish.width:g} mm wide, its sides are broken off"
    start = text("start", paper.x(0.0) - 1.4, paper.middle + 1.0, INK, size=2.5, anchor="end")
    return text(told, SQUARE, 4.2, INK, anchor="start") + start


def text(
    said: str, x: float, y: float, colour: str, *, size: float = TYPE, anchor: str = "middle", weight: str = "normal"
) -> str:
    """Words on a halo of paper, so that ruling and lines do not run through them."""
    style: dict[str, str | float] = {"font_size": size, "text_anchor": anchor, "font_weight": weight}
    ground = words(said, x, y, fill=GROUND, stroke=GROUND, stroke_width=1.1, aria_hidden="true", **style)
    return ground + words(said, x, y, fill=colour, **style)
