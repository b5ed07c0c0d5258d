"""The squared sheet that a coupon is drawn on: its scale, and where things go."""

from dataclasses import dataclass

from etchbook.preparation import CutPlan, CuttingError
from etchbook.report.paper import SQUARE
from etchbook.report.svg import element, number

WIDTH = 50 * SQUARE
EDGE = 2 * SQUARE
"""Squares left free at both ends of the coupon."""

TOP, TALLEST, BELOW, END_VIEW = 5 * SQUARE, 12 * SQUARE, 6 * SQUARE, 8 * SQUARE
_ROUND = tuple(step * 10.0**power for power in range(4) for step in (1.0, 2.0, 5.0))


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetPaper:
    """How millimetres of the coupon go onto the paper.

    Parameters
    ----------
    per_square : what one square stands for [mm], always a round number
    left, top, bottom : of the drawn coupon [mm of paper]
    broken : whether the sides of the coupon run on beyond what is drawn
    """

    per_square: float
    left: float
    top: float
    bottom: float
    broken: bool

    @property
    def scale(self) -> float:
        """Paper millimetres to one millimetre of the coupon."""
        return SQUARE / self.per_square

    @property
    def middle(self) -> float:
        """Where the weld runs [mm of paper]."""
        return (self.top + self.bottom) / 2

    @property
    def height(self) -> float:
        """Of the whole sheet [mm]."""
        return self.bottom + BELOW + END_VIEW

    def x(self, place: float) -> float:
        """A place along the weld [mm] on the paper [mm]."""
        return self.left + place * self.scale

    @property
    def ratio(self) -> str:
        """The scale in words, true when the sheet is printed at its own size."""
        told = f"{number(self.scale)} : 1" if self.scale >= 1 else f"1 : {number(1 / self.scale)}"
        return f"one square is {number(self.per_square)} mm, drawn {told}"


def sheet_paper(plan: CutPlan) -> SheetPaper:
    """The largest round scale at which the coupon fits on the sheet along its length."""
    long = WIDTH - 2 * EDGE
    per_square = next((step for step in _ROUND if plan.wish.length * SQUARE / step <= long), None)
    if per_square is None:
        raise CuttingError(f"a coupon of {plan.wish.length:g} mm is too long for a drawing")
    scale = SQUARE / per_square
    broken = plan.wish.width * scale > TALLEST
    tall = TALLEST if broken else max(plan.wish.width * scale, 2 * SQUARE)
    left = EDGE + SQUARE * ((long - plan.wish.length * scale) // 2 // SQUARE)
    return SheetPaper(per_square=per_square, left=left, top=TOP, bottom=TOP + tall, broken=broken)


def ruling(height: float) -> str:
    """The fine lines of the squares."""
    across = "".join(f"M{number(n * SQUARE)} 0V{number(height)}" for n in range(round(WIDTH / SQUARE) + 1))
    down = "".join(f"M0 {number(n * SQUARE)}H{number(WIDTH)}" for n in range(int(height / SQUARE) + 1))
    return element("path", d=across + down, fill="none", stroke="#c9d6d3", stroke_width=0.12)
