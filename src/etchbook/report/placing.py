"""Finding a free place for the words beside a measured line."""

from dataclasses import dataclass, field

import numpy as np

from etchbook.report.svg import Points

EM = 0.56
"""Mean width of a letter of our typeface, in type sizes, on the wide side."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Box:
    """A rectangle by its middle and its half width and half height."""

    x: float
    y: float
    half_width: float
    half_height: float

    def meets(self, other: "Box") -> bool:
        """Whether the two overlap."""
        apart_x = abs(self.x - other.x) - self.half_width - other.half_width
        apart_y = abs(self.y - other.y) - self.half_height - other.half_height
        return apart_x < 0 and apart_y < 0

    def holds(self, points: Points) -> int:
        """How many of (n, 2) points lie inside."""
        inside = (np.abs(points[:, 0] - self.x) < self.half_width) & (np.abs(points[:, 1] - self.y) < self.half_height)
        return int(inside.sum())


@dataclass(kw_only=True, slots=True)
class Sheet:
    """A sheet on which words are placed one after the other; each takes its room.

    Parameters
    ----------
    width, height : of the sheet
    size : type size, in the sheet's unit
    ink : (n, 2) points of what is drawn already and is better not written over
    ends : (n, 2) ends of all measured lines: words next to one would be taken for its value
    taken : rooms already given away
    """

    width: float
    height: float
    size: float
    ink: Points
    ends: Points
    taken: list[Box] = field(default_factory=list)

    def place(self, words: str, start: Points, end: Points) -> Box | None:
        """The best room for words beside the line from `start` to `end`, or None when the sheet is full."""
        half = (len(words) * EM * self.size / 2 + 0.2 * self.size, 0.68 * self.size)
        best, least = None, np.inf
        for box, reach in self._rooms(start, end, half):
            if not self._free(box):
                continue
            cost = 1.5 * reach / self.size + 0.7 * box.holds(self.ink)
            cost += 3.0 * self._strange_ends(box, start, end)
            if cost < least:
                cost += self._crossed(box, start, end)
            if cost < least:
                best, least = box, cost
        if best is not None:
            self.taken.append(best)
        return best

    def holds(self, *points: Points) -> bool:
        """Whether all of these points lie on the sheet: a line cut off at its rim would belie its value."""
        limit = np.array([self.width, self.height])
        return all(bool(((point >= 0) & (point <= limit)).all()) for point in points)

    @staticmethod
    def anchor(box: Box, start: Points, end: Points) -> Points:
        """The point of the line from `start` to `end` that a pointer from the box goes to."""
        step = end - start
        share = np.clip((np.array([box.x, box.y]) - start) @ step / max(float(step @ step), 1e-9), 0.0, 1.0)
        return np.asarray(start + share * step)

    def _strange_ends(self, box: Box, start: Points, end: Points) -> int:
        """Ends of other lines that the words would seem to belong to."""
        away = np.abs(self.ends - [box.x, box.y]) - [box.half_width, box.half_height]
        near = np.hypot(*np.maximum(away, 0.0).T) < 0.9 * self.size
        own = np.minimum(np.hypot(*(self.ends - start).T), np.hypot(*(self.ends - end).T)) < 0.4 * self.size
        return int((near & ~own).sum())

    def _crossed(self, box: Box, start: Points, end: Points) -> float:
        """What a pointer from the line to the box would run across: other words cost most, then what is drawn."""
        anchor = self.anchor(box, start, end)
        run = anchor + np.linspace(0.0, 1.0, 12)[:, None] * (near_edge(box, anchor) - anchor)
        margin = 0.3 * self.size
        low, high = run.min(axis=0) - margin, run.max(axis=0) + margin
        ink = self.ink[((self.ink > low) & (self.ink < high)).all(axis=1)]
        ink = ink[np.hypot(*(ink - anchor).T) > 1.2 * self.size]
        near = np.abs(ink[:, None] - run[None]).max(axis=2).min(axis=1) < margin
        return 8.0 * sum(min(other.holds(run), 1) for other in self.taken) + 0.8 * float(near.sum())

    def _free(self, box: Box) -> bool:
        inside = box.half_width <= box.x <= self.width - box.half_width
        inside = inside and box.half_height <= box.y <= self.height - box.half_height
        return inside and not any(box.meets(other) for other in self.taken)

    def _rooms(self, start: Points, end: Points, half: tuple[float, float]) -> list[tuple[Box, float]]:
        rooms = []
        for share in (0.5, 0.3, 0.7, 0.1, 0.9):
            at = start + share * (end - start)
            for angle in np.arange(0.0, 2 * np.pi, np.pi / 8):
                way = np.array([np.cos(angle), np.sin(angle)])
                edge = min(half[0] / max(abs(way[0]), 1e-9), half[1] / max(abs(way[1]), 1e-9))
                for gap in (0.35, 0.7, 1.2, 2.0, 3.0, 4.2, 5.6, 7.5, 10.0, 14.0):
                    x, y = at + way * (edge + gap * self.size)
                    rooms.append(
                        (Box(x=float(x), y=float(y), half_width=half[0], half_height=half[1]), gap * self.size)
                    )
        return rooms


def near_edge(box: Box, point: Points) -> Points:
    """The point of a box's rim that is nearest to `point`, where a pointer to it would end."""
    x = np.clip(point[0], box.x - box.half_width, box.x + box.half_width)
    y = np.clip(point[1], box.y - box.half_height, box.y + box.half_height)
    return np.array([x, y])
