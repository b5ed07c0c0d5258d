"""Parallel lines side by side, told as one indication with their count and spacing."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from etchbook.quantity import Measured
from etchbook.section.indications.candidates import Candidate
from etchbook.section.indications.describing import described, millimetres
from etchbook.section.indications.scene import Scene
from etchbook.section.records import Indication

Array = NDArray[np.float64]
FEWEST = 3
WIDEST_MM = 1.2
"""Lines further apart than this belong to no family."""


def told(scene: Scene, found: list[Candidate]) -> list[Indication]:
    """Indications of the lines of one member: families as one, the rest one by one."""
    if not found or found[0].member is None:
        return [described(scene, one) for one in found]
    deep = [float(one.member.depth(one.trace.points).mean()) if one.member else 0.0 for one in found]
    order = sorted(range(len(found)), key=lambda k: deep[k])
    groups: list[list[int]] = []
    for k in order:
        last = groups[-1] if groups else None
        if last is not None and deep[k] - deep[last[-1]] < WIDEST_MM * scene.mm and _alike(found[last[-1]], found[k]):
            last.append(k)
        else:
            groups.append([k])
    indications = []
    for group in groups:
        lines = [found[k] for k in group]
        if len(group) < FEWEST:
            indications += [described(scene, one) for one in lines]
        else:
            indications.append(_family(scene, lines, np.array([deep[k] for k in group])))
    return indications


def _alike(one: Candidate, other: Candidate) -> bool:
    """Whether two lines lie beside each other, and neither is far darker."""
    if one.member is None:
        return False
    a, b = (line.trace.points @ one.member.way for line in (one, other))
    shared = min(a.max(), b.max()) - max(a.min(), b.min())
    ratio = one.trace.profile.seen / max(other.trace.profile.seen, 1e-6)
    return bool(shared > 0.3 * min(np.ptp(a), np.ptp(b)) and 1 / 4 < ratio < 4)


def _family(scene: Scene, lines: list[Candidate], deep: Array) -> Indication:
    best = max(lines, key=lambda one: one.score)
    first = described(scene, best)
    steps = np.diff(deep)
    u = float(steps.std() / np.sqrt(len(steps))) if len(steps) > 1 else 0.5
    shares = [one.trace.continuity for one in lines]
    return replace(
        first,
        kind="family",
        count=len(lines),
        others=tuple(one.trace.points for one in lines if one is not best),
        spacing=millimetres(scene, float(steps.mean()), max(u, 0.2)),
        continuity=Measured(value=min(1.0, float(np.mean(shares))), u=0.05, unit=""),
    )
