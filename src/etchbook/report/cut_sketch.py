"""Where along its seam a coupon was cut for the section, as a small sketch on squared paper; blank where not known."""

from etchbook.report.paper import SQUARE, WIDTH
from etchbook.report.svg import document, element, number, words
from etchbook.section import CutPlace

INK, PENCIL, MEASURE, GROUND = "#1d2422", "#5b6664", "#1f3f7a", "#fdfcf8"
HEIGHT = 5.6 * SQUARE
TOP, MIDDLE, BOTTOM = 1.4 * SQUARE, 2.6 * SQUARE, 3.8 * SQUARE
LEFT, RIGHT = 3 * SQUARE, WIDTH - 3 * SQUARE
BLANK = "not given: draw the cut here by hand"
TITLE = "Where the section was cut"


def cut_sketch(cut: CutPlace | None, piece: str = "") -> str:
    """The coupon from above with the seam, the piece and the face that was read.

    Parameters
    ----------
    cut : where the section was cut; None leaves a coupon to be drawn on by hand
    piece : what the specimen is called

    Returns
    -------
    str
        An SVG document, 170 mm wide; not to scale where the length of the seam is not known.
    """
    body = [element("rect", width=WIDTH, height=HEIGHT, fill=GROUND), _squares()]
    if cut is not None and (cut.start is not None or cut.stop is not None):
        body.append(_piece(cut, piece))
    body += [_coupon(cut), _seam()]
    body.append(_word(BLANK, (LEFT + RIGHT) / 2, TOP - 2.0, PENCIL) if cut is None else _face(cut))
    return document(body, (WIDTH, HEIGHT), (f"{WIDTH:.0f}mm", f"{HEIGHT:.0f}mm"), TITLE, cut_words(cut) or BLANK)


def cut_words(cut: CutPlace | None) -> str:
    """The place of the cut in words; "" where it is not known."""
    if cut is None:
        return ""
    seam = "" if cut.seam is None else f" of a seam of {cut.seam:g} mm"
    looks = f", the face looking to the {cut.towards}" if cut.towards else ""
    return f"{cut.at:g} mm from the start{seam}{looks}"


def cut_caption(cut: CutPlace | None) -> str:
    """What the sketch shows."""
    if cut is None:
        return f"{TITLE}: {BLANK}."
    scale = "" if cut.seam is not None else " Not to scale: the length of the seam is not known."
    return f"{TITLE}: {cut_words(cut)}. The coupon from above.{scale}"


def _x(cut: CutPlace, place: float) -> float:
    """A place along the seam on the paper; where its length is not known the cut stands in the middle."""
    whole = cut.seam or 2.0 * max(cut.at, cut.stop or 0.0, 1.0)
    return LEFT + (RIGHT - LEFT) * min(max(place / whole, 0.0), 1.0)


def _squares() -> str:
    across = "".join(f"M{number(n * SQUARE)} 0V{number(HEIGHT)}" for n in range(round(WIDTH / SQUARE) + 1))
    down = "".join(f"M0 {number(n * SQUARE)}H{number(WIDTH)}" for n in range(int(HEIGHT / SQUARE) + 1))
    return element("path", d=across + down, fill="none", stroke="#c9d6d3", stroke_width=0.12)


def _coupon(cut: CutPlace | None) -> str:
    """The coupon in outline; open at its end where nobody said how long the seam is."""
    closed = cut is None or cut.seam is not None
    d = f"M{number(RIGHT)} {number(TOP)}H{number(LEFT)}V{number(BOTTOM)}H{number(RIGHT)}{'Z' if closed else ''}"
    ends = _word("start", LEFT - 1.4, MIDDLE + 1.0, INK, anchor="end")
    if closed:
        ends += _word("stop", RIGHT + 1.4, MIDDLE + 1.0, INK, anchor="start")
    return element("path", d=d, fill="none", stroke=INK, stroke_width=0.45) + ends


def _seam() -> str:
    """The weld as a hatched band; its width is not to scale."""
    half, count = 1.3, int((RIGHT - LEFT) / 1.8)
    edges = "".join(f"M{number(LEFT)} {number(y)}H{number(RIGHT)}" for y in (MIDDLE - half, MIDDLE + half))
    arcs = "".join(
        f"M{number(LEFT + 0.7 + 1.8 * n)} {number(MIDDLE - half)}q1 {half} 0 {2 * half}" for n in range(count)
    )
    told = element("path", d=edges, fill="none", stroke=INK, stroke_width=0.3)
    return told + element("path", d=arcs, fill="none", stroke=PENCIL, stroke_width=0.2)


def _piece(cut: CutPlace, piece: str) -> str:
    """The piece that the face belongs to, between its two ends."""
    first = _x(cut, cut.start or 0.0)
    last = _x(cut, cut.stop) if cut.stop is not None else RIGHT
    told = element("rect", x=first, y=TOP, width=max(last - first, 0.4), height=BOTTOM - TOP, fill="#e4e9e2")
    ends = "".join(f"M{number(x)} {number(TOP)}V{number(BOTTOM)}" for x in (first, last))
    told += element("path", d=ends, stroke=INK, stroke_width=0.3, fill="none")
    return told + (
        _word(piece, (first + last) / 2, BOTTOM - 1.6, INK) if piece and last - first > 1.8 * len(piece) else ""
    )


def _face(cut: CutPlace) -> str:
    """The face that was read: a line with a point at each end, its place, and an arrow the way it looks."""
    x = _x(cut, cut.at)
    told = element("path", d=f"M{number(x)} {number(TOP - 2.6)}V{number(BOTTOM + 1.4)}", stroke=MEASURE,
                   stroke_width=0.35, fill="none")  # fmt: skip
    told += "".join(element("circle", cx=x, cy=y, r=0.7, fill=MEASURE) for y in (TOP - 2.6, BOTTOM + 1.4))
    if cut.towards:
        way = -1.0 if cut.towards == "start" else 1.0
        tip = f"m{number(-1.4 * way)} -1l{number(1.4 * way)} 1l{number(-1.4 * way)} 1"
        arrow = f"M{number(x)} {number(TOP - 2.6)}h{number(5 * way)}{tip}"
        told += element("path", d=arrow, stroke=MEASURE, stroke_width=0.35, fill="none")
    anchor = "start" if x < LEFT + 30 else "end" if x > RIGHT - 30 else "middle"
    told += _word(f"section at {cut.at:g} mm from the start", x, BOTTOM + 4.9, MEASURE, anchor=anchor)
    return told


def _word(said: str, x: float, y: float, colour: str, *, anchor: str = "middle") -> str:
    """Words on a halo of paper, so that ruling and lines do not run through them."""
    style: dict[str, str | float] = {"font_size": 2.9, "text_anchor": anchor}
    ground = words(said, x, y, fill=GROUND, stroke=GROUND, stroke_width=1.1, aria_hidden="true", **style)
    return ground + words(said, x, y, fill=colour, **style)
