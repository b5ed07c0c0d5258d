"""Where each measured dimension lies on the picture: the line a person would lay a scale along."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from etchbook.geometry import Line, distances_to_polyline
from etchbook.geometry.lines import through
from etchbook.picture import Scale
from etchbook.quantity import Measured, expanded
from etchbook.report.svg import Points
from etchbook.report.wording import SHORT, scaled_words
from etchbook.section import Outline, Reading

Ends = tuple[Points, Points]


@dataclass(frozen=True, kw_only=True, slots=True)
class MeasuredLine:
    """A dimension on the picture: its two ends [px] and the words beside it."""

    id: str
    start: Points
    end: Points
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class _View:
    outline: Outline
    length: float
    """Length of the dimension that is drawn [px]; 0 where there is no scale."""

    sign: float
    """Whether its value is above or below zero, 1 or -1."""

    def line(self, name: str) -> Line | None:
        fit = self.outline.lines.get(name)
        return None if fit is None else fit.line

    def mark(self, name: str) -> Points | None:
        found = self.outline.landmarks.get(name)
        return None if found is None else np.asarray(found.point, float)

    def chain(self, name: str) -> Points:
        found = self.outline.boundaries.get(name)
        return np.zeros((0, 2)) if found is None else np.asarray(found.points, float)


def measured_lines(reading: Reading) -> tuple[MeasuredLine, ...]:
    """The dimensions that can be shown as lines, each where it was taken.

    A dimension smaller than its own expanded uncertainty is left to the table: a line
    of no certain length would only clutter the picture.
    """
    lines = []
    for name, way in _WAYS.items():
        if name == "throat" and "nominal_throat" in reading.dimensions:
            continue  # the two lie on each other in a fillet, and the nominal one is what the drawing asks for
        value = reading.dimensions.get(name)
        if not isinstance(value, Measured) or abs(value.value) <= expanded(value):
            continue
        view = _View(outline=reading.outline, length=_pixels(reading, value), sign=float(np.sign(value.value)))
        ends = way(view)
        if ends is not None and _agrees(ends, reading, value):
            lines.append(MeasuredLine(id=name, start=ends[0], end=ends[1], words=_words(name, value)))
    return tuple(lines)


def _agrees(ends: Ends, reading: Reading, value: Measured) -> bool:
    """Whether a line is as long as its value says; one that is not would mislead more than none."""
    found, wanted = float(np.hypot(*(ends[1] - ends[0]))), _pixels(reading, value)
    per_mm = reading.scale.px_per_mm if isinstance(reading.scale, Scale) else 0.0
    return found > 0 and abs(found - wanted) <= max(0.15 * wanted, 3 * value.u * per_mm, 2.0)


def _words(name: str, value: Measured) -> str:
    return f"{SHORT.get(name, name)}: {scaled_words(value)}"


def _pixels(reading: Reading, value: Measured) -> float:
    return abs(value.value) * reading.scale.px_per_mm if isinstance(reading.scale, Scale) else 0.0


def _foot(line: Line, point: Points) -> Points:
    return line.at(float(line.along(point)[0]))


def _leg(member: str) -> Callable[[_View], Ends | None]:
    def ends(view: _View) -> Ends | None:
        line, root, toe = view.line(f"surface_{member}"), view.mark("joint_root"), view.mark(f"toe_{member}")
        if line is None or root is None or toe is None:
            return None
        return _foot(line, root), _foot(line, toe)

    return ends


def _outward(view: _View) -> tuple[Points, Points] | None:
    """The joint root and the unit vector from it that halves the joint angle, towards the weld face."""
    root, toes = view.mark("joint_root"), [view.mark("toe_1"), view.mark("toe_2")]
    if root is None or toes[0] is None or toes[1] is None:
        return None
    sides = [toe - root for toe in toes if toe is not None]
    halved = sum((side / max(float(np.hypot(*side)), 1e-9) for side in sides), np.zeros(2))
    length = float(np.hypot(*halved))
    return (root, halved / length) if length > 1e-6 else None


def _nominal_throat(view: _View) -> Ends | None:
    found = _outward(view)
    return None if found is None or view.length == 0 else (found[0], found[0] + view.length * found[1])


def _root_penetration(view: _View) -> Ends | None:
    found = _outward(view)
    return None if found is None or view.length == 0 else (found[0], found[0] - view.length * found[1])


def _missed_root(view: _View) -> Ends | None:
    found = _outward(view)
    return None if found is None or view.length == 0 else (found[0], found[0] + view.length * found[1])


def _throat(view: _View) -> Ends | None:
    root, face = view.mark("joint_root"), view.chain("weld_face")
    if root is None or len(face) == 0:
        return None
    return root, face[int(np.argmin(np.hypot(*(face - root).T)))]


def _penetration(member: str) -> Callable[[_View], Ends | None]:
    def ends(view: _View) -> Ends | None:
        line = view.line(f"end_{member}") or view.line(f"surface_{member}")
        face, fusion = view.chain("weld_face"), view.chain(f"fusion_line_{member}")
        if line is None or len(face) == 0 or len(fusion) == 0:
            return None
        side = np.sign(line.across(face.mean(axis=0))[0])
        deepest = fusion[int(np.argmax(-side * line.across(fusion)))]
        return _foot(line, deepest), deepest

    return ends


def _undercut(member: str) -> Callable[[_View], Ends | None]:
    def ends(view: _View) -> Ends | None:
        line, toe = view.line(f"surface_{member}"), view.mark(f"toe_{member}")
        face = view.chain("weld_face")
        if line is None or toe is None or len(face) == 0 or view.length == 0:
            return None
        rim = np.concatenate([face, view.chain(f"surface_{member}")])
        near = rim[np.hypot(*(rim - toe).T) < 8 * view.length]
        if len(near) == 0:
            return None
        side = np.sign(line.across(face.mean(axis=0))[0])
        depth = -side * line.across(near)
        worst = int(np.argmax(depth))
        return _foot(line, near[worst]), near[worst]

    return ends


def _off_chord(chain_name: str, first: str, second: str, way: float | None) -> Callable[[_View], Ends | None]:
    """The furthest point of a chain from its chord: outside the weld (way 1), inside (-1), as the value says (None)."""

    def ends(view: _View) -> Ends | None:
        a, b, chain = view.mark(first), view.mark(second), view.chain(chain_name)
        others = [view.chain(name) for name in ("fusion_line_1", "fusion_line_2", "weld_face") if name != chain_name]
        inside = np.concatenate(others)
        if a is None or b is None or len(chain) == 0 or len(inside) == 0:
            return None
        chord = through(a, b)
        outward = -float(np.sign(chord.across(inside.mean(axis=0))[0]))
        height = outward * (view.sign if way is None else way) * chord.across(chain)
        furthest = chain[int(np.argmax(height))]
        return _foot(chord, furthest), furthest

    return ends


def _between(first: str, second: str) -> Callable[[_View], Ends | None]:
    def ends(view: _View) -> Ends | None:
        a, b = view.mark(first), view.mark(second)
        return None if a is None or b is None else (a, b)

    return ends


def _haz(member: str) -> Callable[[_View], Ends | None]:
    def ends(view: _View) -> Ends | None:
        edge, fusion = view.chain(f"haz_edge_{member}"), view.chain(f"fusion_line_{member}")
        if len(edge) < 5 or len(fusion) < 2 or view.length == 0:
            return None
        inner = edge[len(edge) // 5 : -len(edge) // 5]
        here = inner[int(np.argmin(np.abs(distances_to_polyline(inner, fusion) - view.length)))]
        return fusion[int(np.argmin(np.hypot(*(fusion - here).T)))], here

    return ends


def _thickness(member: str) -> Callable[[_View], Ends | None]:
    def ends(view: _View) -> Ends | None:
        near, far = view.line(f"surface_{member}"), view.line(f"back_{member}")
        run, toe = view.chain(f"surface_{member}"), view.mark(f"toe_{member}")
        if near is None or far is None or toe is None or len(run) == 0:
            return None
        away = np.hypot(*(run - toe).T)
        here = _foot(near, run[int(np.argmin(np.abs(away - 0.55 * away.max())))])
        return here, _foot(far, here)

    return ends


_WAYS: dict[str, Callable[[_View], Ends | None]] = {
    "leg_1": _leg("1"),
    "leg_2": _leg("2"),
    "nominal_throat": _nominal_throat,
    "throat": _throat,
    "root_penetration": _root_penetration,
    "missed_root": _missed_root,
    "penetration_1": _penetration("1"),
    "penetration_2": _penetration("2"),
    "undercut_1": _undercut("1"),
    "undercut_2": _undercut("2"),
    "convexity": _off_chord("weld_face", "toe_1", "toe_2", None),
    "weld_width": _between("toe_1", "toe_2"),
    "excess_weld_metal": _off_chord("weld_face", "toe_1", "toe_2", 1.0),
    "root_width": _between("root_toe_1", "root_toe_2"),
    "excess_penetration": _off_chord("root_face", "root_toe_1", "root_toe_2", 1.0),
    "root_concavity": _off_chord("root_face", "root_toe_1", "root_toe_2", -1.0),
    "haz_width_1": _haz("1"),
    "haz_width_2": _haz("2"),
    "thickness_1": _thickness("1"),
    "thickness_2": _thickness("2"),
}
