"""The truth as a plain document."""

from etchbook.simulate.records import PaintedSection


def truth_document(painted: PaintedSection) -> dict[str, object]:
    """What is true of a painted picture, ready for JSON."""
    truth = painted.truth
    return {
        "simulated": True,
        "joint": truth.family,
        "px_per_mm": truth.px_per_mm,
        "dimensions": dict(truth.dimensions),
        "landmarks_px": {name: [float(v) for v in point] for name, point in truth.landmarks.items()},
        "polylines_px": {name: [[float(x), float(y)] for x, y in chain] for name, chain in truth.polylines.items()},
        "pores_px": [list(pore) for pore in truth.pores],
        "extras": dict(truth.extras),
        "recipe": dict(painted.recipe),
    }
