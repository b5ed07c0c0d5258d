"""Where the plates of a painted joint meet unfused, so that what is told there can be counted: an edge of the joint."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import Line, fit_line
from etchbook.section.records import WELD
from etchbook.simulate import PaintedSection

Array = NDArray[np.float64]
BESIDE_MM, LEAST_MM = 0.15, 0.5
"""How far beside the gap still counts as on it, and how much of it must show for a picture to have one [mm]."""


def shows_root_gap(section: PaintedSection) -> bool:
    """Whether the picture shows a gap, or a line where plates touch, that was not fused."""
    found = _gap(section)
    if found is None:
        return False
    start, end, _ = found
    px = section.truth.px_per_mm
    steps = np.linspace(0, 1, max(2, int(np.hypot(*(end - start)))))[:, None]
    return bool(_open(section, start + steps * (end - start)).sum() > LEAST_MM * px)


def on_root_gap(section: PaintedSection, points: Array) -> float:
    """Share of some points that lies on the gap."""
    found = _gap(section)
    if found is None or not len(points):
        return 0.0
    start, end, half = found
    long = float(np.hypot(*(end - start)))
    way = (end - start) / max(long, 1e-9)
    off = points - start
    run, across = off @ way, np.abs(off @ np.array([-way[1], way[0]]))
    near = max(BESIDE_MM * section.truth.px_per_mm, 4.0)
    on = (run > -near) & (run < long + near) & (across < half + near)
    return float((on & (_label(section, points) != WELD)).mean())


def _gap(section: PaintedSection) -> tuple[Array, Array, float] | None:
    """Middle line of the gap from end to end and half its width [px]; None for joints without one."""
    truth = section.truth
    lines = {name: fit_line(np.asarray(chain, float), 0.2).line for name, chain in truth.polylines.items()
             if name.startswith(("surface", "back", "top"))}  # fmt: skip
    root = truth.landmarks.get("joint_root")
    sizes = section.recipe["sizes"]
    assert isinstance(sizes, dict)
    half = 0.5 * float(sizes.get("gap", 0.0)) * truth.px_per_mm
    if root is None or truth.family not in ("tee", "lap", "butt"):
        return None
    ends = _ends(section, lines, root)
    if truth.family == "butt":
        return *ends, half
    rise = half * _towards(lines["surface_1"], truth.landmarks["toe_2"])
    return ends[0] + rise, ends[1] + rise, half


def _ends(section: PaintedSection, lines: dict[str, Line], root: Array) -> tuple[Array, Array]:
    if section.truth.family == "tee":
        return root, _foot(lines["surface_1"], _crossing(lines["surface_1"], lines["back_2"]))
    if section.truth.family == "lap":
        away = root - section.truth.landmarks["toe_1"]
        way = lines["surface_1"].direction
        return root, root + (1 if way @ away > 0 else -1) * float(sum(section.labels.shape)) * way
    line = lines["surface_1"]
    return _foot(line, root), _foot(lines["back_1"], root)


def _towards(line: Line, place: Array) -> Array:
    return line.normal if float(line.across(place)[0]) > 0 else -line.normal


def _foot(line: Line, place: Array) -> Array:
    return np.asarray(place - float(line.across(place)[0]) * line.normal)


def _crossing(one: Line, other: Line) -> Array:
    matrix = np.stack([one.normal, other.normal])
    return np.linalg.solve(matrix, np.array([one.normal @ one.anchor, other.normal @ other.anchor]))


def _open(section: PaintedSection, points: Array) -> NDArray[np.bool_]:
    """Which places lie in the picture and not in the weld metal."""
    height, width = section.labels.shape
    inside = (points >= 0).all(axis=1) & (points[:, 0] < width) & (points[:, 1] < height)
    return np.asarray(inside & (_label(section, points) != WELD))


def _label(section: PaintedSection, points: Array) -> NDArray[np.uint8]:
    height, width = section.labels.shape
    at = np.round(points).astype(np.intp)
    return np.asarray(section.labels[np.clip(at[:, 1], 0, height - 1), np.clip(at[:, 0], 0, width - 1)])
