"""How a painted section looks: colours, contrasts, textures and faults of the photo, drawn at random."""

from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Difficulty = Literal["any", "plain", "moderate", "hard"]
HazKind = Literal["flat", "two", "three", "fading", "none"]
WeldKind = Literal["columns", "fan", "grains", "passes", "streaks", "mottled", "smooth"]
PlateKind = Literal["flat", "fine", "grains", "twins", "rolled", "speckled", "mottled"]
AirKind = Literal["flat", "mount", "resin", "bench", "wood", "cloth", "paper", "squares", "clutter", "gradient"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Look:
    """Numbers that steer the painting; light is 0 to 1, lengths are mm unless said.

    Parameters
    ----------
    level : 0 clean and plain to 1 hard; scales every fault
    plate, plate_2, weld, low, haz_in, haz_out, air : (3,) colours; `low` is the weld near its fusion line
    haz_kind, haz_split, haz_soft : bands; where the inner one ends (share of the width); softness of the edge (share)
    line, line_width : darkening (or lightening) along the fusion line
    blend : over what distance weld and HAZ run into each other; low_reach : how far `low` reaches into the weld
    weld_kind, plate_kind, air_kind : textures; weld_size, plate_size : their contrast; grain : their size
    rim : light (positive) or dark seam at the specimen's edge; shadow : strength of its shadow
    """

    level: float
    plate: Array
    plate_2: Array
    weld: Array
    low: Array
    haz_in: Array
    haz_out: Array
    air: Array
    haz_kind: HazKind
    haz_split: float
    haz_soft: float
    line: float
    line_width: float
    blend: float
    low_reach: float
    weld_kind: WeldKind
    weld_size: float
    plate_kind: PlateKind
    plate_size: float
    grain: float
    air_kind: AirKind
    rim: float
    shadow: float


def draw_look(rng: np.random.Generator, difficulty: Difficulty) -> Look:
    """Draw a look; `plain` is clean and clear, `hard` has every fault a photo can have."""
    if difficulty not in get_args(Difficulty):
        raise ValueError(f'"{difficulty}" is no difficulty: use any, plain, moderate or hard')
    bounds = {"plain": (0.0, 0.12), "moderate": (0.12, 0.5), "hard": (0.5, 1.0)}
    level = float(rng.beta(1.0, 1.5)) if difficulty == "any" else float(rng.uniform(*bounds[difficulty]))
    tint = _tint(rng)
    plate = rng.uniform(0.2, 0.88) * tint
    strength = float(np.exp(rng.uniform(np.log(0.07), np.log(0.38)))) * (1 - 0.4 * level) + 0.012
    haz_kind: HazKind = rng.choice(get_args(HazKind), p=[0.34, 0.22, 0.12, 0.24, 0.08])
    weld, haz_in, haz_out = _contrasts(rng, plate, strength, haz_kind)
    air, air_kind = _air(rng, plate)
    line = float(rng.uniform(0.1, 0.6)) * (1 if rng.uniform() < 0.85 else -0.6)
    needs_line = float(np.abs(weld - haz_in).mean()) < 0.045
    like_haz = rng.uniform() < 0.2
    return Look(
        level=level,
        plate=plate,
        plate_2=plate * (rng.uniform(0.8, 1.2) if rng.uniform() < 0.25 else 1.0),
        weld=weld,
        low=weld + rng.uniform(0.3, 0.9) * (haz_in - weld) if like_haz else weld * rng.uniform(0.92, 1.08),
        haz_in=haz_in,
        haz_out=haz_out,
        air=air,
        haz_kind=haz_kind,
        haz_split=float(rng.uniform(0.2, 0.75)),
        haz_soft=float(rng.choice([0.01, 0.08, 0.25, 0.5], p=[0.4, 0.3, 0.2, 0.1])),
        line=line if needs_line or rng.uniform() < 0.3 else 0.0,
        line_width=float(rng.uniform(0.03, 0.15)),
        blend=float(rng.uniform(0.03, 0.3)) if rng.uniform() < 0.3 else 0.0,
        low_reach=float(rng.uniform(0.3, 2.5)),
        weld_kind=rng.choice(get_args(WeldKind), p=[0.3, 0.13, 0.13, 0.12, 0.12, 0.08, 0.12]),
        weld_size=float(np.exp(rng.uniform(np.log(0.015), np.log(0.2)))) * (0.5 + 0.8 * level),
        plate_kind=rng.choice(get_args(PlateKind), p=[0.16, 0.22, 0.16, 0.08, 0.14, 0.12, 0.12]),
        plate_size=float(np.exp(rng.uniform(np.log(0.006), np.log(0.09)))) * (0.5 + 0.8 * level),
        grain=float(np.exp(rng.uniform(np.log(0.05), np.log(0.9)))),
        air_kind=air_kind,
        rim=float(rng.normal(0, 0.25)) if rng.uniform() < 0.4 else 0.0,
        shadow=float(rng.uniform(0.1, 0.7)) if rng.uniform() < 0.3 else 0.0,
    )


def _tint(rng: np.random.Generator) -> Array:
    """Colour of the light and the steel: mostly grey, often warm or bluish, seldom odd."""
    lot = rng.uniform()
    if lot < 0.35:
        return np.asarray(1 + rng.normal(0, 0.01, 3))
    if lot < 0.8:
        warm = rng.normal(0, 0.09)
        return np.array([1 + warm, 1 + rng.normal(0, 0.02), 1 - warm])
    return np.asarray(np.clip(1 + rng.normal(0, 0.13, 3), 0.6, 1.4))


def _contrasts(rng: np.random.Generator, plate: Array, strength: float, kind: HazKind) -> tuple[Array, Array, Array]:
    """Colours of weld and HAZ against the plate: either polarity each, sometimes one of them hardly there."""

    def moved(size: float) -> Array:
        room = 1 - plate.mean() if (up := rng.uniform() < 0.5) else plate.mean() - 0.03
        step = min(size, 0.8 * room) * (1 if up else -1)
        colour = rng.normal(0, 0.15, 3) if rng.uniform() < 0.3 else rng.normal(0, 0.03, 3)
        return np.asarray(np.clip(plate + step * (1 + colour), 0.01, 1.0))

    weld = moved(strength * rng.uniform(0.4, 1.4))
    haz_in = moved(strength * rng.uniform(0.4, 1.2))
    haz_out = moved(strength * rng.uniform(0.3, 0.9)) if kind in ("two", "three") else haz_in
    if kind == "none":
        haz_in = haz_out = plate + rng.uniform(-0.25, 0.25) * strength
    if rng.uniform() < 0.06:
        weld = plate + rng.uniform(-0.15, 0.15) * strength
    if np.abs(weld - haz_in).mean() < 0.02 and rng.uniform() < 0.7:
        weld = np.clip(2 * plate - weld, 0.02, 1)
    return weld, haz_in, haz_out


def _air(rng: np.random.Generator, plate: Array) -> tuple[Array, AirKind]:
    """Colour and kind of the surroundings; mostly well apart from the plate, sometimes hardly."""
    kind: AirKind = rng.choice(get_args(AirKind), p=[0.2, 0.2, 0.14, 0.1, 0.07, 0.07, 0.06, 0.04, 0.07, 0.05])
    grey = float(rng.choice([rng.uniform(0, 0.15), rng.uniform(0.15, 0.65), rng.uniform(0.7, 1)], p=[0.45, 0.25, 0.3]))
    colour = np.full(3, grey) + rng.normal(0, 0.02, 3)
    if kind == "resin":
        resins = (
            [0.05, 0.05, 0.06],
            [0.92, 0.92, 0.9],
            [0.55, 0.55, 0.55],
            [0.45, 0.3, 0.15],
            [0.15, 0.25, 0.5],
            [0.7, 0.55, 0.3],
            [0.1, 0.3, 0.2],
        )
        colour = np.array(resins[int(rng.integers(len(resins)))]) * rng.uniform(0.7, 1.25)
    if kind == "wood":
        colour = np.array([0.62, 0.45, 0.28]) * rng.uniform(0.5, 1.3)
    if kind in ("paper", "squares"):
        colour = rng.uniform(0.72, 1.0) + rng.normal(0, 0.02, 3)
    if kind in ("cloth", "clutter") and rng.uniform() < 0.5:
        colour = rng.uniform(0.05, 0.9, 3)
    if np.abs(colour - plate).mean() < 0.1 and rng.uniform() < 0.85:
        colour = colour * 0.3 if plate.mean() > 0.4 else np.clip(colour + 0.45, 0, 1)
    return np.clip(colour, 0, 1), kind
