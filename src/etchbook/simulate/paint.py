"""Painting a case: layers of light from the surroundings up, then the camera."""

import zlib
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from etchbook.picture import Picture
from etchbook.simulate import camera, scene
from etchbook.simulate.cases import Case, draw_case
from etchbook.simulate.covers import Covers, Fields, draw_covers, draw_fields
from etchbook.simulate.extras import scale_bar, with_extras
from etchbook.simulate.hazedge import haz_edge
from etchbook.simulate.lines import LineKind, LineSpec, LineTruth, draw_line
from etchbook.simulate.linework import with_lines
from etchbook.simulate.looks import Difficulty, Look, draw_look
from etchbook.simulate.metal import metal_light
from etchbook.simulate.placing import Placing, draw_placing
from etchbook.simulate.records import PaintedSection, Truth
from etchbook.simulate.truth import true_with_edges
from etchbook.terms import Family, dimensions_of

Array = NDArray[np.float32]


def paint_section(
    family: Family,
    seed: int,
    *,
    width: int = 1600,
    height: int = 1200,
    difficulty: Difficulty = "any",
    px_per_mm: float | None = None,
    overrides: Mapping[str, float] | None = None,
    lines: Sequence[LineSpec | LineKind] = (),
) -> PaintedSection:
    """Invent and paint a section; the same arguments give the same bytes.

    Parameters
    ----------
    width, height : of the picture [px]
    difficulty : how many faults the photo has
    px_per_mm : scale; drawn so that the weld fills an eighth to four fifths of the picture when None
    overrides : sizes of the case to hold, see `draw_case`
    lines : indications to paint; a kind alone is drawn at random. Without them the picture stays as it was.
    """
    case = draw_case(family, seed, **dict(overrides or {}))
    return paint(case, width=width, height=height, seed=seed, difficulty=difficulty, px_per_mm=px_per_mm, lines=lines)


def paint(
    case: Case,
    *,
    width: int,
    height: int,
    seed: int,
    difficulty: Difficulty = "any",
    look: Look | None = None,
    px_per_mm: float | None = None,
    placing: Placing | None = None,
    lines: Sequence[LineSpec | LineKind] = (),
) -> PaintedSection:
    """Paint a case; `look` and `placing` replace the random ones, `lines` are the indications in it."""
    rng = np.random.default_rng([seed, zlib.crc32(case.family.encode())])
    drawn = draw_look(rng, difficulty)
    look = look or drawn
    placed = draw_placing(rng, case.family, case.weld, (width, height), look.level, px_per_mm)
    placing = placing or placed
    case = as_displayed(case, placing)
    covers, fields = draw_covers(case, placing, width, height), draw_fields(case, placing, width, height)
    labels, members = _classes(covers, fields)
    light = metal_light(case, placing, look, covers, fields, scene.surroundings(rng, look, (height, width)), rng)
    specs = [line if isinstance(line, LineSpec) else draw_line(line, case.family, seed) for line in lines]
    light, marked = with_lines(light, specs, case, covers, placing, seed)
    light, extras = with_extras(light, look, covers, placing, rng, (labels >= 2).astype(np.float32))
    pixels, sigma, printed = _photographed(rng, light, look, placing, max(width, height))
    picture = Picture(rgb=_sixteen(pixels), name=f"{case.family}_{seed:05d}.png", notes=("simulated picture",))
    recipe = {
        "seed": seed, "difficulty": difficulty, "level": look.level, "turn": placing.turn, "mirror": placing.mirror,
        "blur": sigma,
        "surroundings": str(look.air_kind), "plate": str(look.plate_kind), "weld": str(look.weld_kind),
        "haz": str(look.haz_kind),
        "sizes": dict(case.sizes),
    }  # fmt: skip
    return PaintedSection(
        picture=picture,
        labels=labels,
        members=members,
        truth=_truth(case, placing, extras | printed, marked),
        recipe=recipe,
    )


def _sixteen(pixels: NDArray[np.uint8]) -> NDArray[np.uint16]:
    wide = pixels.astype(np.uint16)
    wide *= 257
    return wide


def _photographed(
    rng: np.random.Generator, light: Array, look: Look, placing: Placing, longest: int
) -> tuple[NDArray[np.uint8], float, dict[str, object]]:
    """Light to pixels: shade, blur, sensor, size, a burnt-in bar, compression."""
    level = look.level
    sigma = float(rng.uniform(0.3, 0.7 + 0.6 * level) * max(1.0, (longest / 512) ** 0.5))
    sigma = sigma * float(rng.uniform(1.3, 2.2)) if rng.uniform() < 0.15 * level else sigma
    pixels = camera.sensed(rng, camera.blurred(rng, camera.lit(rng, light, level), min(sigma, 4.5), level), level)
    if rng.uniform() < 0.12:
        pixels = camera.resized(rng, pixels)
    printed: dict[str, object] = {}
    if rng.uniform() < 0.25:
        over, bar = scale_bar(rng, np.asarray(pixels / np.float32(255), np.float32), placing.px_per_mm)
        pixels = np.asarray(np.clip(over, 0, 1) * 255 + 0.5, np.uint8)
        printed = {"scale_bar": bar} if bar else {}
    if rng.uniform() < 0.8:
        pixels = camera.compressed(pixels, int(rng.uniform(92 - 50 * level, 98)))
    return pixels, sigma, printed


def as_displayed(case: Case, placing: Placing) -> Case:
    """Butt and bead: member 1 and toe 1 are on the left as displayed. Corner: member 1 lies flatter."""
    if case.family in ("tee", "lap"):
        return case
    ends = placing.px(case.face[[0, -1]])
    step = ends[1] - ends[0]
    swap = step[0] < 0 if abs(step[0]) > 1e-6 else step[1] < 0
    if case.family == "corner":
        swap = abs(placing.direction(np.array([1.0, 0.0]))[0]) < abs(placing.direction(np.array([0.0, 1.0]))[0])
    return swapped(case) if swap else case


def swapped(case: Case) -> Case:
    """The same section with its members named the other way round."""
    other = {"1": "2", "2": "1"}
    bead = case.family == "bead"

    def named(name: str) -> str:
        fixed = name[-1] not in other or (bead and not name.startswith(("toe", "undercut", "overlap")))
        return name if fixed else name[:-1] + other[name[-1]]

    beside = case.beside[::-1]
    return replace(
        case,
        face=case.face[::-1],
        fusion=case.fusion[::-1],
        haz=case.haz[::-1],
        beside=beside if bead else np.where(beside == 0, 0, 3 - beside),
        members=case.members[::-1],
        lines={named(name): line for name, line in case.lines.items()},
        root_face=None if case.root_face is None else case.root_face[::-1],
        sizes={named(name): size for name, size in case.sizes.items()},
    )


def _classes(covers: Covers, fields: Fields) -> tuple[NDArray[np.uint8], NDArray[np.uint8]]:
    """The class that covers most of each pixel's centre, and the member it belongs to."""
    metal = covers.metal
    most = np.argmax(np.stack([*covers.plates, covers.weld]), axis=0) + 1
    weld = len(covers.plates) + 1
    members = np.where(metal < 0.5, 0, np.where(most == weld, 3, most)).astype(np.uint8)
    members[covers.weld >= 0.5] = 3
    labels = np.where(members == 3, 3, np.minimum(members, 1)).astype(np.uint8)
    part, owner = labels[fields.rows, fields.columns], members[fields.rows, fields.columns]
    for number, beyond in enumerate(fields.beyond, 1):
        part[(owner == number) & (beyond < 0)] = 2
    return labels, members


def _truth(case: Case, placing: Placing, extras: dict[str, object], lines: tuple[LineTruth, ...]) -> Truth:
    edges = {number: haz_edge(case, number) for number in range(1, len(case.members) + 1)}
    values = true_with_edges(case, edges)
    landmarks = {"toe_1": placing.px(case.face[0])[0], "toe_2": placing.px(case.face[-1])[0]}
    if case.family != "bead":
        landmarks["joint_root"] = placing.px(case.root)[0]
    polylines = {"weld_face": placing.px(case.face), "fusion_line": placing.px(case.fusion)}
    for number, edge in edges.items():
        polylines[f"fusion_line_{number}"] = placing.px(case.fusion[case.beside == number])
        for k, chain in enumerate(edge.chains):
            polylines[f"haz_edge_{number}" + (f"_{k}" if k else "")] = placing.px(chain)
    if case.root_face is not None:
        polylines["root_face"] = placing.px(case.root_face)
        landmarks["root_toe_1"], landmarks["root_toe_2"] = polylines["root_face"][0], polylines["root_face"][-1]
    for name, (point, way, _) in case.lines.items():
        if not name.startswith("toe"):
            polylines[name] = placing.px(np.array([point - 5 * way, point + 5 * way]))
    scale = placing.scale_at(case.root)
    rings = [(pore.mean(axis=0), float(np.ptp(pore, axis=0).mean()) / 2) for pore in case.pores]
    return Truth(
        family=case.family,
        px_per_mm=scale,
        dimensions={term.id: values.get(term.id) for term in dimensions_of(case.family)},
        landmarks=landmarks,
        polylines=polylines,
        beside=case.beside,
        pores=tuple(_circle(placing.px(middle)[0], radius * scale) for middle, radius in rings),
        extras=extras,
        lines=lines,
    )


def _circle(middle: NDArray[np.float64], radius: float) -> tuple[float, float, float]:
    return float(middle[0]), float(middle[1]), radius
