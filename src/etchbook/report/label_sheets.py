"""Sheets and rolls of labels, by the size of one label; every length in mm."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """How labels lie on a page.

    Parameters
    ----------
    page : width and height of the page [mm]
    label : width and height of a label [mm]
    across, down : how many
    corner : left and upper edge of the first label [mm]
    step : from one label to the next, across and down [mm]
    words : what it is called in a list
    """

    page: tuple[float, float]
    label: tuple[float, float]
    across: int
    down: int
    corner: tuple[float, float]
    step: tuple[float, float]
    words: str

    @property
    def count(self) -> int:
        """Labels on a page."""
        return self.across * self.down

    def place(self, number: int) -> tuple[float, float]:
        """Left upper corner of a label on its page [mm], counted from 0 along the rows."""
        row, column = divmod(number % self.count, self.across)
        return self.corner[0] + column * self.step[0], self.corner[1] + row * self.step[1]


def _roll(width: float, height: float) -> Sheet:
    return Sheet(page=(width, height), label=(width, height), across=1, down=1, corner=(0.0, 0.0),
                 step=(width, height), words="one label a page, for a label printer")  # fmt: skip


SHEETS: dict[str, Sheet] = {
    "70x37": Sheet(page=(210.0, 297.0), label=(70.0, 37.0), across=3, down=8, corner=(0.0, 0.5), step=(70.0, 37.0),
                   words="24 on A4"),
    "63x38": Sheet(page=(210.0, 297.0), label=(63.5, 38.1), across=3, down=7, corner=(7.2, 15.15), step=(66.0, 38.1),
                   words="21 on A4"),
    "105x57": Sheet(page=(210.0, 297.0), label=(105.0, 57.0), across=2, down=5, corner=(0.0, 6.0), step=(105.0, 57.0),
                    words="10 on A4"),
    "38x21": Sheet(page=(210.0, 297.0), label=(38.1, 21.2), across=5, down=13, corner=(4.7, 10.7), step=(40.6, 21.2),
                   words="65 on A4"),
    "67x25": Sheet(page=(215.9, 279.4), label=(66.7, 25.4), across=3, down=10, corner=(4.8, 12.7), step=(69.85, 25.4),
                   words="30 on US letter (2 5/8 x 1 in)"),
    "50x25": _roll(50.0, 25.0),
    "25x25": _roll(25.0, 25.0),
    "62x29": _roll(62.0, 29.0),
}  # fmt: skip
"""The sheets by the size of one label; the usual ones, measured for paper of that format (from memory)."""
