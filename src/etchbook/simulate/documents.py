"""The truth as a plain document."""

from dataclasses import asdict

from etchbook.simulate.lines import LineTruth
from etchbook.simulate.records import PaintedSection


def truth_document(painted: PaintedSection) -> dict[str, object]:
    """What is true of a painted picture, ready for JSON."""
    truth = painted.truth
    lines = {"lines": [_line(line) for line in truth.lines]} if truth.lines else {}
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
        **lines,
    }


def _line(line: LineTruth) -> dict[str, object]:
    """One painted indication, its middle line thinned to what a drawing needs."""
    return asdict(line.spec) | {
        "length_mm": line.length_mm,
        "width_px": line.width_px,
        "depth_fraction": line.depth_fraction,
        "share": line.share,
        "directions": list(line.directions),
        "pieces_px": [[[float(x), float(y)] for x, y in piece[:: max(1, len(piece) // 60)]] for piece in line.pieces],
        "polylines_mm": [[[float(x), float(y)] for x, y in chain[:: max(1, len(chain) // 60)]] for chain in line.mm],
        "polylines_px": [[[float(x), float(y)] for x, y in chain[:: max(1, len(chain) // 60)]] for chain in line.px],
    }
