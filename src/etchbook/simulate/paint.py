"""Painting a case: layers of light from the surroundings up, then the camera."""

import zlib
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from etchbook.picture import Picture
from etchbook.simulate import camera, scene, textures
from etchbook.simulate.cases import Case, draw_case
from etchbook.simulate.looks import Difficulty, Look, draw_look
from etchbook.simulate.placing import Placing, mask
from etchbook.simulate.records import PaintedSection, Truth
from etchbook.simulate.truth import true_dimensions
from etchbook.terms import Family

Array = NDArray[np.float32]


def paint_section(
    family: Family,
    seed: int,
    *,
    width: int = 1600,
    height: int = 1200,
    difficulty: Difficulty = "any",
    px_per_mm: float | None = None,
    sizes: Mapping[str, float] | None = None,
) -> PaintedSection:
    """Invent and paint a section; the same arguments give the same bytes.

    Parameters
    ----------
    width, height : of the picture [px]
    difficulty : how many faults the photo has
    px_per_mm : scale; drawn so that the weld fills a tenth to two thirds of the picture when None
    sizes : sizes of the case to hold, see `draw_case`
    """
    return paint(draw_case(family, seed, **dict(sizes or {})), width=width, height=height, seed=seed, difficulty=difficulty, px_per_mm=px_per_mm)


def paint(
    case: Case, *, width: int, height: int, seed: int, difficulty: Difficulty = "any", px_per_mm: float | None = None
) -> PaintedSection:
    """Paint a case."""
    rng = np.random.default_rng([seed, zlib.crc32(case.family.encode())])
    look = draw_look(rng, difficulty)
    placing = _place(case, width, height, rng, look.level, px_per_mm)
    case = _named_as_displayed(case, placing)
    covers = _covers(case, placing, width, height)
    labels, members = _classes(covers)
    light = _layers(case, placing, look, covers, rng)
    light, extras = _extras(light, look, covers, placing, rng)
    finer = max(width, height) / 512
    sigma = rng.uniform(0.3, 0.75 + 0.55 * look.level) * max(1.0, finer**0.5)
    light = camera.blurred(rng, camera.lit(rng, light, look.level), sigma, look.level)
    pixels = camera.sensed(rng, light, look.level)
    if rng.uniform() < 0.8:
        pixels = camera.compressed(pixels, int(rng.uniform(92 - 45 * look.level, 98)))
    truth = _truth(case, placing, extras)
    return PaintedSection(
        picture=Picture(rgb=pixels.astype(np.uint16) * 257, name=f"{case.family}_{seed}.jpg", notes=("simulated picture",)),
        labels=labels,
        members=members,
        truth=truth,
        recipe={"seed": seed, "difficulty": difficulty, "level": look.level, "turn": placing.turn, "mirror": placing.mirror, "blur": sigma, "air": look.air_kind, "sizes": dict(case.sizes)},
    )  # fmt: skip


def _place(case: Case, width: int, height: int, rng: np.random.Generator, level: float, px_per_mm: float | None) -> Placing:
    size = float(np.ptp(case.weld, axis=0).max())
    share = float(np.exp(rng.uniform(np.log(0.13), np.log(0.75))))
    scale = px_per_mm or share * min(width, height) / size
    lot = rng.uniform()
    turn = rng.normal(0, 0.07) if lot < 0.5 else rng.choice([0.5, 1, 1.5]) * np.pi + rng.normal(0, 0.1) if lot < 0.7 else rng.uniform(-np.pi, np.pi)
    if case.family in ("butt", "bead") and lot < 0.9:
        turn = float(np.clip(turn if abs(turn) < 0.6 else rng.normal(0, 0.1), -0.6, 0.6))
        turn += np.pi if rng.uniform() < 0.1 else 0.0
    room = np.clip(np.array([width, height]) - 0.9 * scale * size, 0, None) / 2
    at = np.array([width, height]) / 2 - 0.5 + rng.uniform(-0.8, 0.8, 2) * room
    tilt = rng.normal(0, 1, 2) * 0.012 * level / max(width, height)
    return Placing(px_per_mm=scale, turn=float(turn), mirror=int(rng.choice([-1, 1])), centre=case.weld.mean(axis=0), at=at, tilt=tilt)


def _named_as_displayed(case: Case, placing: Placing) -> Case:
    """Butt and bead: member 1 and toe 1 are on the left as displayed. Corner: member 1 lies nearer to the horizontal."""
    if case.family in ("tee", "lap"):
        return case
    ends = placing.px(case.face[[0, -1]])
    swap = ends[0, 0] > ends[1, 0]
    if case.family == "corner":
        swap = abs(placing.direction(np.array([1.0, 0.0]))[0]) < abs(placing.direction(np.array([0.0, 1.0]))[0])
    return _swapped(case) if swap else case


def _swapped(case: Case) -> Case:
    other = {"1": "2", "2": "1"}
    bead = case.family == "bead"
    lines = case.lines if bead else {f"{name[:-1]}{other[name[-1]]}": line for name, line in case.lines.items()}
    beside = case.beside[::-1]
    sizes = {f"{k[:-1]}{other[k[-1]]}" if k[-1] in other and (not bead or not k.startswith("thick")) else k: v for k, v in case.sizes.items()}
    return replace(
        case,
        face=case.face[::-1],
        fusion=case.fusion[::-1],
        haz=case.haz[::-1],
        beside=beside if bead else np.where(beside == 0, 0, 3 - beside),
        members=case.members if bead else case.members[::-1],
        lines=lines,
        root_face=None if case.root_face is None else case.root_face[::-1],
        sizes=sizes,
    )


Covers = dict[str, Array]


def _covers(case: Case, placing: Placing, width: int, height: int) -> Covers:
    """How much of each pixel each thing covers."""
    put = [placing.px(_ringed(polygon)) for polygon in case.members]
    weld = mask([placing.px(case.weld)], width, height)
    # The groove of an undercut is cut out of the plate: air lies between the chord of the face and the face itself.
    members = [mask([polygon], width, height) for polygon in put]
    groove = mask([placing.px(ring) for ring in _grooves(case)], width, height) if _grooves(case) else np.zeros_like(weld)
    members = [member * (1 - groove * (1 - weld)) for member in members]
    band = mask([placing.px(np.concatenate([case.haz, case.fusion[::-1]]))], width, height)
    covers = {"weld": weld, "haz": band}
    for index, member in enumerate(members):
        covers[f"member_{index + 1}"] = member * (1 - weld)
    return covers


def _ringed(polygon: NDArray[np.float64]) -> NDArray[np.float64]:
    """A polygon with points along its long sides, so that tilt bends nothing."""
    closed = np.concatenate([polygon, polygon[:1]])
    parts = [a + (b - a) * np.linspace(0, 1, 40)[:-1, None] for a, b in zip(closed[:-1], closed[1:], strict=True)]
    return np.concatenate(parts)


def _grooves(case: Case) -> list[NDArray[np.float64]]:
    """The part of the face that lies below the plate at each toe, closed by the plate surface."""
    found = []
    for toe, face in (("1", case.face), ("2", case.face[::-1])):
        if case.family == "corner" or case.sizes.get(f"undercut_{toe}", 0.0) <= 0:
            continue
        point, _, normal = case.lines["surface_1" if case.family == "bead" else f"surface_{toe}"]
        depth = (face - point) @ normal
        stop = int(np.argmax((depth > 0) & (np.arange(len(depth)) > 3))) or 40
        found.append(np.concatenate([face[: stop + 1], face[:1]]))
    return found


def _classes(covers: Covers) -> tuple[NDArray[np.uint8], NDArray[np.uint8]]:
    weld = covers["weld"] >= 0.5
    one = (covers["member_1"] >= 0.5) & ~weld
    two = (covers["member_2"] >= 0.5) & ~weld & ~one if "member_2" in covers else np.zeros_like(weld)
    haz = covers["haz"] >= 0.5
    labels = np.where(weld, 3, np.where(one | two, np.where(haz, 2, 1), 0)).astype(np.uint8)
    members = np.where(weld, 3, np.where(one, 1, np.where(two, 2, 0))).astype(np.uint8)
    return labels, members


def _layers(case: Case, placing: Placing, look: Look, covers: Covers, rng: np.random.Generator) -> Array:
    shape = covers["weld"].shape
    mm = placing.px_per_mm
    light = scene.surroundings(rng, look, (shape[0], shape[1]))
    grain = _plate_texture(rng, (shape[0], shape[1]), mm, look)
    inner, outer = _haz_bands(case, placing, covers, look, (shape[0], shape[1]))
    haz_grain = grain * rng.uniform(0.4, 1.5)
    for name, colour in (("member_1", look.plate), ("member_2", look.plate_2)):
        if name not in covers:
            continue
        plate = colour + grain[..., None]
        changed = (look.haz_in * inner[..., None] + look.haz_out * (1 - inner[..., None])) + haz_grain[..., None] + (colour - look.plate)
        surface = plate * (1 - outer[..., None]) + changed * outer[..., None]
        cover = covers[name][..., None]
        light = light * (1 - cover) + surface.astype(np.float32) * cover
    light = _weld_layer(case, placing, look, covers, rng, light)
    light = _slits(case, placing, look, covers, rng, light)
    return _rims(look, covers, rng, light)


def _plate_texture(rng: np.random.Generator, shape: tuple[int, int], mm: float, look: Look) -> Array:
    kind = rng.uniform()
    size = 0.3 + 0.9 * look.level
    field = 0.012 * size * textures.noise(rng, shape, rng.uniform(0.4, 3))
    if kind < 0.3:
        field = field + rng.uniform(0.01, 0.07) * size * textures.grains(rng, shape, rng.uniform(4, 60), 1.0, rng.uniform(0, 1.2))
    elif kind < 0.5:
        field = field + rng.uniform(0.005, 0.03) * size * textures.noise(rng, shape, rng.uniform(2, 12))
    if rng.uniform() < 0.15:
        field = field + 0.02 * size * textures.noise(rng, (shape[0], 1), rng.uniform(2, 10)) * np.ones(shape, np.float32)
    return np.asarray(field, np.float32)


def _haz_bands(case: Case, placing: Placing, covers: Covers, look: Look, shape: tuple[int, int]) -> tuple[Array, Array]:
    """Share of the inner band, and of the HAZ as a whole, at each pixel."""
    height, width = shape
    split = case.fusion + look.haz_split * (case.haz - case.fusion)
    inner = mask([placing.px(np.concatenate([split, case.fusion[::-1]]))], width, height)
    outer = covers["haz"]
    thick = float(np.median(np.hypot(*(case.haz - case.fusion).T))) * placing.px_per_mm
    soft = look.haz_fade * thick * 0.5
    if soft > 0.6:
        outer = gaussian_filter(outer, soft)
        inner = gaussian_filter(inner, 0.5 * soft)
    return inner, np.maximum(outer, 0.0)


def _weld_layer(case: Case, placing: Placing, look: Look, covers: Covers, rng: np.random.Generator, light: Array) -> Array:
    shape = (light.shape[0], light.shape[1])
    mm = placing.px_per_mm
    fusion, face = placing.px(case.fusion), placing.px(case.face)
    kind = rng.uniform()
    size = rng.uniform(0.01, 0.1) * (0.4 + 0.8 * look.level)
    middle = face[len(face) // 2]
    if kind < 0.55:
        field = size * textures.columns(rng, shape, fusion[::3], middle, mm)
    elif kind < 0.7:
        field = size * textures.grains(rng, shape, rng.uniform(6, 80), rng.uniform(0.4, 2.0), rng.uniform(0, 1.2))
    elif kind < 0.8:
        field = size * textures.passes(rng, shape, face.mean(axis=0), mm)
    else:
        field = 0.3 * size * textures.noise(rng, shape, rng.uniform(0.5, 5))
    depth = np.zeros(shape, np.float32)
    if np.abs(look.weld_low - look.weld).max() > 1e-6:
        y, x = np.mgrid[0 : shape[0], 0 : shape[1]]
        way = fusion.mean(axis=0) - middle
        way = way / max(float(np.hypot(*way)), 1e-6)
        depth = np.clip(((x - middle[0]) * way[0] + (y - middle[1]) * way[1]) / (2 * mm), 0, 1).astype(np.float32)
    surface = look.weld * (1 - depth[..., None]) + look.weld_low * depth[..., None] + field[..., None]
    cover = covers["weld"][..., None]
    light = light * (1 - cover) + surface.astype(np.float32) * cover
    if look.line > 0:
        thin = np.concatenate([fusion, fusion[::-1] + 0.01])
        edge = gaussian_filter(mask([_band(thin, max(1.0, 0.05 * mm))], shape[1], shape[0]), 0.6)
        light = light * (1 - look.line * edge[..., None])
    for x, y, radius in case.pores:
        ring = np.array([x, y]) + radius * np.stack([np.cos(a := np.linspace(0, 2 * np.pi, 40)), np.sin(a)], axis=1)
        hole = mask([placing.px(ring)], shape[1], shape[0])[..., None]
        light = light * (1 - hole) + hole * np.float32(rng.uniform(0.0, 0.12))
    return np.asarray(light, np.float32)


def _band(chain: NDArray[np.float64], wide: float) -> NDArray[np.float64]:
    """A closed strip of this width along the first half of a there-and-back chain."""
    half = chain[: len(chain) // 2]
    slope = np.gradient(half, axis=0)
    normal = np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.maximum(np.hypot(*slope.T), 1e-9)[:, None]
    return np.concatenate([half + 0.5 * wide * normal, (half - 0.5 * wide * normal)[::-1]])


def _slits(case: Case, placing: Placing, look: Look, covers: Covers, rng: np.random.Generator, light: Array) -> Array:
    """The line between members that touch: dark, or filled with what surrounds them."""
    if case.family not in ("tee", "lap", "butt"):
        return light
    shape = light.shape
    wide = max(rng.uniform(0.02, 0.12), 1.2 / placing.px_per_mm)
    gap = case.sizes.get("gap", 0.0)
    if case.family == "butt":
        centre = np.array([[0.0, -1.0], [0.0, case.sizes["thickness_1"] + 1.0]])
        strip = np.array([[-wide / 2, centre[0, 1]], [wide / 2, centre[0, 1]], [wide / 2, centre[1, 1]], [-wide / 2, centre[1, 1]]])
    else:
        reach = -case.sizes["thickness_2"] if case.family == "tee" else -150.0
        low = gap / 2 - wide / 2
        strip = np.array([[reach, low], [0.0, low], [0.0, low + wide], [reach, low + wide]])
    if gap > wide:
        return light
    inside = covers["member_1"] + covers.get("member_2", 0.0) * 1.0
    cover = mask([placing.px(_ringed(strip))], shape[1], shape[0]) * np.clip(inside, 0, 1) * rng.uniform(0.3, 1.0)
    colour = look.air if rng.uniform() < 0.3 else np.full(3, rng.uniform(0.0, 0.15))
    return np.asarray(light * (1 - cover[..., None]) + cover[..., None] * colour.astype(np.float32), np.float32)


def _rims(look: Look, covers: Covers, rng: np.random.Generator, light: Array) -> Array:
    """A light or dark seam, a shadow, mill scale along the specimen's edge."""
    metal = np.clip(covers["weld"] + covers["member_1"] + covers.get("member_2", 0.0), 0, 1)
    if look.rim != 0.0:
        size = rng.uniform(0.8, 2.5)
        seam = np.clip(4 * gaussian_filter(metal, size) * (1 - gaussian_filter(metal, size)), 0, 1)
        light = light * (1 + look.rim * seam[..., None])
    if rng.uniform() < 0.25:
        shift = rng.uniform(-0.02, 0.02, 2) * light.shape[1]
        shadow = np.roll(gaussian_filter(metal, 0.01 * light.shape[1]), (int(shift[0]), int(shift[1])), axis=(0, 1))
        light = light * (1 - rng.uniform(0.1, 0.5) * (shadow * (1 - metal))[..., None])
    return np.asarray(light, np.float32)


def _extras(light: Array, look: Look, covers: Covers, placing: Placing, rng: np.random.Generator) -> tuple[Array, dict[str, object]]:
    extras: dict[str, object] = {}
    metal = np.clip(covers["weld"] + covers["member_1"] + covers.get("member_2", 0.0), 0, 1)
    level = look.level
    shape = (light.shape[0], light.shape[1])
    if rng.uniform() < 0.25 + 0.5 * level:
        field = textures.scratches(rng, shape, int(rng.uniform(5, 30 + 220 * level)))
        light = light * (1 + rng.uniform(0.03, 0.25) * (0.3 + level) * field * (0.15 + 0.85 * metal))[..., None]
    if rng.uniform() < 0.4 * level:
        light = scene.stained(rng, light, level)
    if rng.uniform() < 0.15 + 0.25 * level:
        near = gaussian_filter(np.maximum(covers["weld"], covers["haz"]), 2) > 0.05
        light = scene.written(rng, light, ~near)
    if rng.uniform() < 0.22:
        light, found = scene.steel_rule(rng, light, placing.px_per_mm, metal < 0.3)
        extras |= {"rule": found} if found else {}
    if rng.uniform() < 0.2:
        light, found = scene.scale_bar(rng, light, placing.px_per_mm)
        extras |= {"scale_bar": found} if found else {}
    return np.asarray(light, np.float32), extras


def _truth(case: Case, placing: Placing, extras: dict[str, object]) -> Truth:
    landmarks = {"toe_1": placing.px(case.face[0])[0], "toe_2": placing.px(case.face[-1])[0]}
    if case.root is not None:
        landmarks["joint_root"] = placing.px(case.root)[0]
    polylines = {"weld_face": placing.px(case.face), "fusion_line": placing.px(case.fusion), "haz_edge": placing.px(case.haz)}
    if case.root_face is not None:
        polylines["root_face"] = placing.px(case.root_face)
        landmarks["root_toe_1"], landmarks["root_toe_2"] = polylines["root_face"][0], polylines["root_face"][-1]
    where = case.root if case.root is not None else case.weld.mean(axis=0)
    local = placing.px(where + np.array([[0.0, 0.0], [0.5, 0.0], [0.0, 0.5]]))
    px_per_mm = float((np.hypot(*(local[1] - local[0])) + np.hypot(*(local[2] - local[0]))))
    pores = tuple((*map(float, placing.px(np.array([x, y]))[0]), r * px_per_mm) for x, y, r in case.pores)
    return Truth(
        family=case.family, px_per_mm=px_per_mm, dimensions=true_dimensions(case), landmarks=landmarks, polylines=polylines,
        beside=case.beside, pores=pores, extras=extras,
    )  # fmt: skip


