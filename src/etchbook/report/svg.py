"""SVG as text: few elements, numbers short, every word escaped."""

from collections.abc import Iterable
from html import escape

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]


def number(value: float, places: int = 2) -> str:
    """A coordinate, as short as it can be written."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".") if places else f"{value:.0f}"
    return "0" if text in ("-0", "") else text


def element(name: str, body: str = "", **attributes: str | float) -> str:
    """One element; underscores in attribute names become hyphens, values are escaped."""
    told = "".join(f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"' for key, value in attributes.items())
    return f"<{name}{told}>{body}</{name}>" if body else f"<{name}{told}/>"


def _value(value: str | float) -> str:
    return escape(value, quote=True) if isinstance(value, str) else number(float(value), 3)


def words(text: str, x: float, y: float, **attributes: str | float) -> str:
    """A piece of text; control characters, which XML cannot hold, are left out."""
    return element("text", escape(printable(text), quote=False) or " ", x=x, y=y, **attributes)


def printable(text: str) -> str:
    """The text without control characters and lone surrogates."""
    kept = "".join(" " if letter in "\t\r\n" else letter for letter in text)
    return "".join(letter for letter in kept if letter.isprintable() or letter == " ")


def chain(points: Points, *, closed: bool = False) -> str:
    """Path data of an (n, 2) chain."""
    if len(points) == 0:
        return ""
    told = [f"{number(x)} {number(y)}" for x, y in np.asarray(points, float)]
    return "M" + "L".join(told) + ("Z" if closed else "")


def dots(points: Points) -> str:
    """Path data of (n, 2) single dots, to be stroked with round caps."""
    return "".join(f"M{number(x)} {number(y)}h0" for x, y in np.asarray(points, float).reshape(-1, 2))


def document(body: Iterable[str], box: tuple[float, float], size: tuple[str, str], title: str, description: str) -> str:
    """A whole SVG picture of `box` (width, height) user units, shown at `size`, with its title and description."""
    head = element("title", escape(printable(title), quote=False)) + element(
        "desc", escape(printable(description), quote=False)
    )
    return element(
        "svg",
        head + "".join(body),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(box[0])} {number(box[1])}",
        width=size[0],
        height=size[1],
        role="img",
        font_family="B612, 'Trebuchet MS', sans-serif",
    )


def thinned(points: Points, tolerance: float) -> Points:
    """An (n, 2) chain with fewer points, none left out that lies further than `tolerance` from what remains.

    Source: D. H. Douglas, T. K. Peucker, Cartographica 10 (1973) 112 (from memory).
    """
    points = np.asarray(points, float)
    if len(points) < 3:
        return points
    keep = np.zeros(len(points), bool)
    keep[[0, -1]] = True
    stack = [(0, len(points) - 1)]
    while stack:
        first, last = stack.pop()
        if last - first < 2:
            continue
        away = _away(points[first + 1 : last], points[first], points[last])
        worst = int(np.argmax(away))
        if away[worst] > tolerance:
            middle = first + 1 + worst
            keep[middle] = True
            stack += [(first, middle), (middle, last)]
    return points[keep]


def _away(points: Points, start: Points, end: Points) -> Points:
    step = end - start
    length = float(np.hypot(*step))
    if length < 1e-12:
        return np.asarray(np.hypot(*(points - start).T))
    return np.asarray(np.abs((points - start) @ np.array([-step[1], step[0]])) / length)
