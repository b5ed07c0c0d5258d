"""How a painted section looks: colours, contrasts, textures and faults of the photo, drawn at random."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Difficulty = Literal["any", "plain", "moderate", "hard"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Look:
    """Numbers that steer the painting; light is 0 to 1.

    Parameters
    ----------
    level : 0 plain to 1 hard; scales every fault
    plate, weld, haz_in, haz_out, air : (3,) colours
    haz_split : share of the HAZ's width that is the inner band; haz_fade : share over which it fades out
    line : darkening along the fusion line
    """

    level: float
    plate: Array
    plate_2: Array
    weld: Array
    weld_low: Array
    haz_in: Array
    haz_out: Array
    haz_split: float
    haz_fade: float
    line: float
    air: Array
    air_kind: str
    rim: float


def draw_look(rng: np.random.Generator, difficulty: Difficulty) -> Look:
    """Draw a look; `plain` is clean and clear, `hard` has every fault a photo can have."""
    bounds = {"plain": (0.0, 0.15), "moderate": (0.15, 0.5), "hard": (0.5, 1.0), "any": (0.0, 1.0)}[difficulty]
    level = float(rng.uniform(*bounds)) if difficulty != "any" else float(rng.beta(1.1, 1.6))
    tint = rng.normal(0, rng.choice([0.004, 0.02, 0.05]), 3)
    base = rng.uniform(0.25, 0.85)
    plate = base + tint
    strong = 1.0 - 0.55 * level
    weld = plate + _step(rng, 0.05, 0.28) * strong + rng.normal(0, 0.02, 3)
    haz_in = plate + _step(rng, 0.05, 0.25) * strong + rng.normal(0, 0.015, 3)
    kind = rng.uniform()
    if kind < 0.2:
        haz_out = plate + _step(rng, 0.03, 0.15) * strong + rng.normal(0, 0.01, 3)
    else:
        haz_out = haz_in.copy()
    if np.abs(weld - haz_in).mean() < 0.035 and rng.uniform() < 0.8:
        haz_in = 2 * plate - haz_in
        haz_out = 2 * plate - haz_out
    low = haz_in if rng.uniform() < 0.15 else weld
    air, air_kind = _air(rng, plate)
    return Look(
        level=level,
        plate=plate,
        plate_2=plate + (rng.normal(0, 0.03, 3) if rng.uniform() < 0.3 else 0.0),
        weld=weld,
        weld_low=0.5 * (low + weld),
        haz_in=haz_in,
        haz_out=haz_out,
        haz_split=float(rng.uniform(0.25, 0.75)),
        haz_fade=float(rng.choice([0.02, 0.1, 0.3, 0.6], p=[0.4, 0.3, 0.2, 0.1])),
        line=float(rng.uniform(0.05, 0.4)) if rng.uniform() < 0.3 else 0.0,
        air=air,
        air_kind=air_kind,
        rim=float(rng.normal(0, 0.15)) if rng.uniform() < 0.4 else 0.0,
    )


def _step(rng: np.random.Generator, low: float, high: float) -> float:
    return float(rng.choice([-1, 1]) * rng.uniform(low, high))


def _air(rng: np.random.Generator, plate: Array) -> tuple[Array, str]:
    """Colour and kind of the surroundings; mostly well apart from the plate, sometimes hardly."""
    kind = str(rng.choice(["flat", "mount", "resin", "bench", "cloth", "clutter", "paper"], p=[0.2, 0.25, 0.15, 0.12, 0.08, 0.1, 0.1]))
    if kind in ("flat", "mount"):
        colour = np.full(3, rng.choice([rng.uniform(0.0, 0.15), rng.uniform(0.15, 0.6), rng.uniform(0.7, 1.0)], p=[0.5, 0.2, 0.3]))
        colour = colour + rng.normal(0, 0.02, 3)
    elif kind == "paper":
        colour = rng.uniform(0.75, 1.0) + rng.normal(0, 0.02, 3)
    else:
        colour = rng.uniform(0.05, 0.95) + rng.normal(0, rng.choice([0.02, 0.06, 0.2], p=[0.5, 0.3, 0.2]), 3)
    if np.abs(colour - plate).mean() < 0.1 and rng.uniform() < 0.85:
        colour = colour * 0.35 if plate.mean() > 0.45 else np.clip(colour + 0.4, 0, 1)
    return np.clip(colour, 0, 1), kind
