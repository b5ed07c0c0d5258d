"""The true outline of a painted section in the reader's own records."""

import numpy as np

from etchbook.geometry import fit_line
from etchbook.section import Boundary, Outline, Regions
from etchbook.simulate import PaintedSection

MEGAPIXELS = 1e6


def true_outline(section: PaintedSection) -> tuple[Outline, Regions]:
    """Outline and regions as they were painted."""
    chains = {name: np.asarray(chain, float) for name, chain in section.truth.polylines.items()}
    lines = {
        name: fit_line(chain, 0.2) for name, chain in chains.items() if name.startswith(("surface", "back", "top"))
    }
    boundaries = {
        name: Boundary(name=name, points=chain, sd=np.full(len(chain), 0.3), confidence=1.0)
        for name, chain in chains.items()
        if len(chain) > 2 and (name in ("weld_face", "root_face") or name.startswith(("fusion_line_", "haz_edge_")))
    }
    weld = np.concatenate([chains["weld_face"], chains["fusion_line"][::-1]])
    factor = max(1, round((section.labels.size / MEGAPIXELS) ** 0.5))
    labels = np.ascontiguousarray(section.labels[factor // 2 :: factor, factor // 2 :: factor])
    return (
        Outline(boundaries=boundaries, landmarks={}, lines=lines, weld=(weld,)),
        Regions(labels=labels, factor=float(factor)),
    )
