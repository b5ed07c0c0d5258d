"""Light of the etched metal: plates with their HAZ, weld metal, gaps, pores and rims."""

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from etchbook.simulate import textures
from etchbook.simulate.cases import Case
from etchbook.simulate.covers import Covers, Fields
from etchbook.simulate.looks import Look
from etchbook.simulate.placing import Placing

Array = NDArray[np.float32]
Shape = tuple[int, int]


def metal_light(
    case: Case, placing: Placing, look: Look, covers: Covers, fields: Fields, air: Array, rng: np.random.Generator
) -> Array:
    """Mix surroundings, plates and weld by their exact shares of each pixel."""
    shape = (air.shape[0], air.shape[1])
    air = _slit_over(look, covers, air, rng, case)
    light = air * (1 - covers.metal)[..., None]
    grain = _plate_texture(rng, shape, placing, look, case.lines["surface_1"][1])
    for number, cover in enumerate(covers.plates):
        if number == 1 and look.plate_kind == "rolled":
            grain = _plate_texture(rng, shape, placing, look, _rolled_along(case))
        surface = _plate(look, fields, number, grain, placing.px_per_mm, rng)
        light += surface * cover[..., None]
    light += _weld(placing, case, look, covers, fields, rng, grain) * covers.weld[..., None]
    light = _line(look, covers, fields, placing.px_per_mm, light)
    light = _thin_slit(case, look, covers, rng, light)
    light = _holes(covers, look, rng, light)
    return _rims(look, covers, placing.px_per_mm, rng, light)


def _plate(look: Look, fields: Fields, number: int, grain: Array, mm: float, rng: np.random.Generator) -> Array:
    base = (look.plate if number == 0 else look.plate_2).astype(np.float32)
    surface = base * (1 + grain)[..., None]
    window = (fields.rows, fields.columns)
    amount, colour = _haz(look, fields, number, mm, rng)
    calm = np.float32(rng.uniform(0.3, 1.3))
    haz = (colour + (base - look.plate).astype(np.float32)) * (1 + calm * grain[window])[..., None]
    surface[window] += amount[..., None] * (haz - surface[window])
    return surface


def _haz(look: Look, fields: Fields, number: int, mm: float, rng: np.random.Generator) -> tuple[Array, Array]:
    """How much of the HAZ's colour shows at each pixel of the window, and that colour."""
    share, beyond = fields.share[number], fields.beyond[number]
    ratio = np.asarray(beyond / np.where(np.abs(share - 1) < 0.05, 1, share - 1), np.float64)
    wide = max(float(np.median(np.abs(ratio))), 2.0)
    soft = max(1.0, look.haz_soft * wide)
    amount = np.clip(0.5 - beyond / soft, 0, 1)
    if look.haz_kind == "fading":
        amount = amount * np.clip(1 - share, 0, 1) ** np.float32(rng.uniform(0.25, 0.9))
        amount = np.maximum(amount, np.float32(rng.uniform(0.1, 0.45)) * np.clip(0.5 - beyond / soft, 0, 1))
    inner = np.clip(0.5 - (share - look.haz_split) * wide / max(1.5, look.haz_soft * wide + 0.1 * mm), 0, 1)
    colour = look.haz_in * inner[..., None] + look.haz_out * (1 - inner)[..., None]
    if look.haz_kind == "three":
        seam = np.exp(-(((share - 0.93) / 0.09) ** 2))[..., None]
        colour = colour + seam * (look.haz_in - colour) * 0.8
    if look.blend > 0:
        mix = 0.5 * np.exp(-np.maximum(fields.deep, 0) / (look.blend * mm))
        colour = colour + mix[..., None] * (look.low - colour)
    return amount.astype(np.float32), colour.astype(np.float32)


def _rolled_along(case: Case) -> NDArray[np.float64]:
    """Rolling direction of member 2: a lapped plate lies along member 1, the others along their own surface."""
    return case.lines["top_2" if case.family == "lap" else "surface_2"][1]


def _plate_texture(
    rng: np.random.Generator, shape: Shape, placing: Placing, look: Look, along: NDArray[np.float64]
) -> Array:
    """Relative brightness of the plates."""
    size, mm = look.plate_size, placing.px_per_mm
    field = 0.004 * textures.noise(rng, shape, 1.0) * (look.level + 0.2)
    if look.plate_kind == "flat":
        return np.asarray(field, np.float32)
    grain = float(np.clip(look.grain * mm, 3, 70))
    field = field + 0.4 * size * textures.noise(rng, shape, float(rng.uniform(0.8, 2.5)))
    if look.plate_kind == "grains":
        field = field + size * textures.grains(rng, shape, grain, edge=float(rng.uniform(0, 1.2)))
    elif look.plate_kind == "twins":
        field = field + size * textures.grains(rng, shape, 1.5 * grain, edge=float(rng.uniform(0.3, 1.5)), twins=True)
    elif look.plate_kind == "rolled":
        way = float(np.arctan2(*placing.direction(along)[::-1]))
        wide = float(np.clip(rng.uniform(0.03, 0.3) * mm, 1.2, 20))
        field = field + size * textures.streaks(rng, shape, way, wide, wide * float(rng.uniform(6, 40)))
    elif look.plate_kind == "speckled":
        dots = textures.noise(rng, shape, float(rng.uniform(1.5, 5)))
        field = field + 1.5 * size * np.clip(np.abs(dots) - 1.2, 0, 2) * float(rng.choice([-1, 1]))
    elif look.plate_kind == "mottled":
        field = field + size * textures.layered(rng, shape, float(rng.uniform(8, 60)))
    return np.asarray(field, np.float32)


def _weld(
    placing: Placing, case: Case, look: Look, covers: Covers, fields: Fields, rng: np.random.Generator, grain: Array
) -> Array:
    """Colour of the weld metal everywhere (its cover picks out where it counts)."""
    shape, mm = covers.weld.shape, placing.px_per_mm
    window = (fields.rows, fields.columns)
    surface = np.broadcast_to(look.weld.astype(np.float32), (*shape, 3)).copy()
    field = _weld_texture(rng, fields, placing, case, look)
    depth = np.exp(np.minimum(fields.deep, 0) / np.float32(look.low_reach * mm))
    inside = look.weld + depth[..., None] * (look.low - look.weld)
    if look.blend > 0:
        mix = 0.5 * np.exp(np.minimum(fields.deep, 0) / (look.blend * mm))
        inside = inside + mix[..., None] * (look.haz_in - inside)
    surface[window] = inside * (1 + look.weld_size * field + 0.5 * grain[window])[..., None]
    return surface


def _weld_texture(rng: np.random.Generator, fields: Fields, placing: Placing, case: Case, look: Look) -> Array:
    mm, shape = placing.px_per_mm, (fields.deep.shape[0], fields.deep.shape[1])
    middle = placing.px(case.face[len(case.face) // 2])[0] - [fields.columns.start, fields.rows.start]
    spot = (float(middle[0]), float(middle[1]))
    wide = float(max(np.exp(rng.uniform(np.log(0.04), np.log(0.5))) * mm, 1.6))
    if look.weld_kind == "columns":
        field = textures.columns(
            rng, fields.deep, fields.place, wide, lean=float(rng.normal(0, 0.4)), sharp=bool(rng.uniform() < 0.5)
        )
    elif look.weld_kind == "fan":
        field = textures.fan(rng, shape, spot, wide)
    elif look.weld_kind == "grains":
        field = textures.grains(
            rng, shape, float(np.clip(look.grain * mm, 4, 60)), way=float(rng.uniform(0, np.pi)),
            stretch=float(rng.uniform(1, 5)),
            edge=float(rng.uniform(0, 1.4)),
        )  # fmt: skip
    elif look.weld_kind == "passes":
        field = 0.7 * textures.passes(rng, shape, spot, mm) + 0.4 * textures.columns(
            rng, fields.deep, fields.place, wide, lean=0.0, sharp=False
        )
    elif look.weld_kind == "streaks":
        field = textures.streaks(
            rng, shape, float(rng.uniform(0, np.pi)), min(wide, 12), wide * float(rng.uniform(3, 10))
        )
    elif look.weld_kind == "mottled":
        field = textures.layered(rng, shape, float(rng.uniform(4, 50)))
    else:
        return np.asarray(0.3 * textures.noise(rng, shape, float(rng.uniform(0.8, 4))), np.float32)
    if rng.uniform() < 0.3:
        field = field + 0.6 * textures.noise(rng, shape, float(rng.uniform(1, 4)))
    return np.asarray(np.clip(field, -2.5, 2.5), np.float32)


def _line(look: Look, covers: Covers, fields: Fields, mm: float, light: Array) -> Array:
    """A dark or light seam along the fusion line, where there is metal."""
    if look.line == 0:
        return light
    window = (fields.rows, fields.columns)
    wide = np.float32(max(look.line_width * mm, 0.9))
    there = np.clip(covers.weld + sum(covers.plates), 0, 1)[window] * (fields.share[0] < 40)
    light[window] *= (1 - np.float32(look.line) * np.exp(-((fields.deep / wide) ** 2)) * there)[..., None]
    return light


def _slit_over(look: Look, covers: Covers, air: Array, rng: np.random.Generator, case: Case) -> Array:
    """Gaps hold what lies behind them, resin, or darkness."""
    lot, dark = rng.uniform(), np.float32(rng.uniform(0.0, 0.12))
    if not case.slits or lot < 0.35:
        return air
    colour = np.full(3, dark) if lot < 0.85 else 0.6 * look.air.astype(np.float32)
    return np.asarray(air + covers.slit[..., None] * (colour - air), np.float32)


def _thin_slit(case: Case, look: Look, covers: Covers, rng: np.random.Generator, light: Array) -> Array:
    """Where plates touch, the line between them still shows, more or less: a seam where both covers run out."""
    strength, wide = rng.uniform(0.25, 0.95), float(rng.uniform(0.5, 1.3))
    if len(covers.plates) < 2 or case.sizes.get("gap", 0.0) > 0.02:
        return light
    one, two = (gaussian_filter(plate, wide) for plate in covers.plates)
    seam = np.clip(4 * one * two, 0, 1) * (1 - covers.weld)
    colour = np.full(3, rng.uniform(0, 0.15)) if rng.uniform() < 0.8 else look.air
    return np.asarray(light + strength * seam[..., None] * (colour.astype(np.float32) - light), np.float32)


def _holes(covers: Covers, look: Look, rng: np.random.Generator, light: Array) -> Array:
    if not covers.pores.any():
        return light
    tone = np.full(3, rng.uniform(0.0, 0.15)) if rng.uniform() < 0.8 else look.air
    light = light + covers.pores[..., None] * (tone.astype(np.float32) - light)
    if rng.uniform() < 0.4:
        glow = np.clip(gaussian_filter(covers.pores, 1.5) - covers.pores, 0, 1)
        light = light * (1 + rng.uniform(0.3, 1.0) * glow[..., None])
    return np.asarray(light, np.float32)


def _rims(look: Look, covers: Covers, mm: float, rng: np.random.Generator, light: Array) -> Array:
    """A light or dark seam along the specimen's edge, a shadow beside it, a bevel, mill scale."""
    metal = covers.metal
    if look.rim != 0.0:
        size = float(rng.uniform(0.8, 2.5))
        soft = gaussian_filter(metal, size)
        light = light * (1 + np.float32(look.rim) * np.clip(4 * soft * (1 - soft), 0, 1))[..., None]
    if look.shadow > 0:
        reach = rng.normal(0, 0.012, 2) * metal.shape[1]
        shadow = np.roll(gaussian_filter(metal, 0.008 * metal.shape[1]), (int(reach[0]), int(reach[1])), axis=(0, 1))
        light = light * (1 - np.float32(look.shadow) * shadow * (1 - metal))[..., None]
    if rng.uniform() < 0.1 + 0.15 * look.level:
        wide = float(np.clip(rng.uniform(0.05, 0.4) * mm, 1, 12))
        edge = np.clip(1.6 - 2 * gaussian_filter(metal, wide), 0, 1) * sum(covers.plates)
        light = light * (1 + np.float32(rng.choice([-0.5, 0.35]) * rng.uniform(0.3, 1)) * edge)[..., None]
    return np.asarray(light, np.float32)
