"""Painting indications into the light of a section, each with its truth."""

import zlib
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from etchbook.simulate.cases import Case
from etchbook.simulate.covers import Covers
from etchbook.simulate.curves import Array, run_of
from etchbook.simulate.linepaths import Paths, depth_fraction, paths_of
from etchbook.simulate.lines import LineSpec, LineTruth
from etchbook.simulate.placing import Placing
from etchbook.simulate.raster import cover_of

Light = NDArray[np.float32]


def with_lines(
    light: Light, specs: Sequence[LineSpec], case: Case, covers: Covers, placing: Placing, seed: int
) -> tuple[Light, tuple[LineTruth, ...]]:
    """Paint indications over the metal; their randomness is their own, so the rest of the picture stays as it is."""
    truths: list[LineTruth] = []
    for k, spec in enumerate(specs):
        rng = np.random.default_rng([seed, zlib.crc32(spec.kind.encode()), 17 + k])
        if spec.kind == "scratches":
            truths.append(_scratched(light, spec, covers, placing, rng))
            continue
        size = (light.shape[1], light.shape[0])
        paths = paths_of(spec, case, placing, size, rng)
        if not paths[0]:
            continue
        pieces = [piece for line in paths[0] for piece in _pieces(spec, line, rng)]
        mask = _mask(spec, covers)
        for piece in pieces:
            _stroke(light, spec, placing, piece, mask)
        truths.append(_truth(spec, case, placing, paths, pieces))
    return light, tuple(truths)


def _mask(spec: LineSpec, covers: Covers) -> Light:
    """Where an indication may show."""
    if spec.where == "weld":
        return covers.weld
    if spec.fusion == "passes":
        return covers.metal
    return covers.plates[1 if spec.where == "member_2" else 0]


def _pieces(spec: LineSpec, line: Array, rng: np.random.Generator) -> list[Array]:
    """A line cut into its pieces, with gaps between that take up what is not covered."""
    if spec.pieces < 2 or spec.continuity >= 1 or spec.kind == "slag":
        return [line]
    parts, gaps = rng.dirichlet(np.full(spec.pieces, 4.0)), rng.dirichlet(np.full(spec.pieces - 1, 4.0))
    cuts, at = [], 0.0
    for k, part in enumerate(parts):
        stop = at + spec.continuity * part
        cuts.append((at, stop))
        at = stop + ((1 - spec.continuity) * gaps[k] if k < len(gaps) else 0.0)
    count = len(line)
    return [line[int(a * count) : int(b * count) + 1] for a, b in cuts if int(b * count) - int(a * count) >= 2]


def _stroke(light: Light, spec: LineSpec, placing: Placing, piece: Array, mask: Light) -> None:
    scale = placing.scale_at(piece.mean(axis=0))
    points, soft = placing.px(piece), spec.soft * scale
    ring = points if spec.kind == "slag" else _ribbon(points, spec.width * scale)
    pad = int(4 * soft) + 3
    low = np.clip(np.floor(ring.min(axis=0)).astype(int) - pad, 0, [light.shape[1] - 1, light.shape[0] - 1])
    high = np.clip(np.ceil(ring.max(axis=0)).astype(int) + pad + 1, low + 1, [light.shape[1], light.shape[0]])
    cover = cover_of(ring - low, int(high[0] - low[0]), int(high[1] - low[1]))
    if soft > 0:
        cover = gaussian_filter(cover, soft)
    box = (slice(int(low[1]), int(high[1])), slice(int(low[0]), int(high[0])))
    light[box] *= (1 - np.float32(spec.contrast) * cover * mask[box])[..., None]


def _ribbon(points: Array, width: float) -> Array:
    """A closed contour of a given width round a line."""
    slope = np.gradient(points, axis=0)
    normal = np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.maximum(np.hypot(*slope.T), 1e-9)[:, None]
    return np.concatenate([points + 0.5 * width * normal, (points - 0.5 * width * normal)[::-1]])


def _truth(spec: LineSpec, case: Case, placing: Placing, paths: Paths, pieces: list[Array]) -> LineTruth:
    lines, free = paths
    number = {"member_1": 1, "member_2": 2}.get(spec.where)
    every = np.concatenate(lines)
    length = max(float(run_of(line)[-1]) for line in lines)
    return LineTruth(
        spec=spec,
        mm=lines,
        px=tuple(placing.px(line) for line in lines),
        pieces=tuple(placing.px(piece) for piece in pieces),
        width_px=spec.width * placing.scale_at(every.mean(axis=0)),
        length_mm=length,
        depth_fraction=None if number is None else depth_fraction(case, number, every),
        share=length / free if free > 0 else 0.0,
    )


def _scratched(light: Light, spec: LineSpec, covers: Covers, placing: Placing, rng: np.random.Generator) -> LineTruth:
    """A population of grinding marks in one or two directions, dark and bright, over all metal alike."""
    height, width = light.shape[:2]
    ways = [spec.angle, *([float(rng.uniform(0, 180))] if rng.uniform() < 0.4 else [])]
    broad = max(spec.width * placing.px_per_mm, 0.7)
    field = np.zeros((height, width), np.float32)
    for way in ways:
        for _ in range(spec.count):
            _mark(field, np.radians(way + rng.normal(0, spec.waviness)), broad, rng)
    light *= (1 - np.float32(spec.contrast) * np.clip(field, -1, 1) * covers.metal)[..., None]
    return LineTruth(
        spec=spec, mm=(), px=(), pieces=(), width_px=broad, length_mm=0.0, depth_fraction=None, share=0.0,
        directions=tuple(ways),
    )  # fmt: skip


def _mark(field: Light, angle: float, broad: float, rng: np.random.Generator) -> None:
    size = np.array([field.shape[1], field.shape[0]])
    long, middle = float(rng.uniform(0.05, 0.7)) * float(size.max()), rng.uniform(0, 1, 2) * size
    way = np.array([np.cos(angle), np.sin(angle)])
    ends = middle + np.array([-0.5, 0.5])[:, None] * long * way
    tone, wide = float(rng.choice([-1, 1])) * float(rng.uniform(0.2, 1)), broad * float(rng.uniform(0.6, 1.3))
    ring = _ribbon(ends, wide)
    low = np.clip(np.floor(ring.min(axis=0)).astype(int) - 1, 0, size - 1)
    high = np.clip(np.ceil(ring.max(axis=0)).astype(int) + 2, low + 1, size)
    cover = cover_of(ring - low, int(high[0] - low[0]), int(high[1] - low[1]))
    field[low[1] : high[1], low[0] : high[0]] += np.float32(tone) * cover
