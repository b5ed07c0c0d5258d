"""Indications that can be painted into a section: what each is, and what is true of it once painted."""

import zlib
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from etchbook.terms import Family

Array = NDArray[np.float64]
LineKind = Literal[
    "segregation",
    "lamination",
    "banding",
    "stringers",
    "rolled_in",
    "lamellar_tear",
    "haz_crack",
    "lack_of_fusion",
    "solidification_crack",
    "grain_boundary",
    "scratch",
    "scratches",
    "stain",
    "lapped_gap",
    "slag",
]
Meets = Literal["stops", "passes"]
LINE_KINDS: tuple[LineKind, ...] = get_args(LineKind)


@dataclass(frozen=True, kw_only=True, slots=True)
class LineSpec:
    """One indication to paint; lengths in mm, shares 0 to 1.

    Parameters
    ----------
    kind : what it stands for
    where : member_1, member_2 or weld
    depth_fraction : distance from the member's surface over its thickness
    share : length over the free length that the picture shows of the member (fusion line, weld depth) there
    at : where on what is left of that length it lies, 0 to 1
    width : full width; contrast : (light beside - light on it) / light beside before the camera
    pieces, continuity : number of pieces, and the share of the length that they cover together
    waviness : standard deviation of its wander across; jagged : wavelength of that wander
    soft : standard deviation of its edges
    angle : to the surface [°]; a scratch: to the picture's rows
    haz, fusion : what it does at the HAZ edge and at the fusion line
    count, spacing : parallel lines of a family and their distance; slag: blobs; scratches: how many a direction
    """

    kind: LineKind
    where: str = "member_1"
    depth_fraction: float = 0.5
    share: float = 0.8
    at: float = 0.5
    width: float = 0.05
    contrast: float = 0.25
    pieces: int = 1
    continuity: float = 1.0
    waviness: float = 0.0
    jagged: float = 2.0
    soft: float = 0.0
    angle: float = 0.0
    haz: Meets = "passes"
    fusion: Meets = "stops"
    count: int = 1
    spacing: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class LineTruth:
    """What is true of one painted indication.

    Parameters
    ----------
    spec : what was asked for
    mm, px : (n, 2) its middle line in the joint's frame and in the picture; one of a family's lines after the other
    pieces : the painted pieces in px; slag: closed contours
    width_px, length_mm : of the whole; depth_fraction : of its middle
    share : length over the free length there
    directions : of a scratch population in the picture [°]
    """

    spec: LineSpec
    mm: tuple[Array, ...]
    px: tuple[Array, ...]
    pieces: tuple[Array, ...]
    width_px: float
    length_mm: float
    depth_fraction: float | None
    share: float
    directions: tuple[float, ...] = ()


def draw_line(kind: LineKind, family: Family, seed: int) -> LineSpec:
    """A likely look of one kind of indication; it never touches the stream of the picture's own randomness."""
    rng = np.random.default_rng([seed, zlib.crc32(kind.encode()), 5])
    where = "member_1" if family == "bead" or rng.uniform() < 0.6 else "member_2"
    return _MAKERS[kind](rng, where)


def _u(rng: np.random.Generator, low: float, high: float) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def _segregation(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="segregation", where=where, depth_fraction=float(rng.normal(0.5, 0.015)), share=float(rng.uniform(0.5, 1)),
        at=float(rng.uniform()), width=_u(rng, 0.04, 0.15), contrast=float(rng.uniform(0.15, 0.35)),
        pieces=int(rng.integers(1, 6)), continuity=float(rng.uniform(0.75, 1.0)), waviness=float(rng.uniform(0, 0.03)),
        soft=float(rng.uniform(0.01, 0.05)),
    )  # fmt: skip


def _lamination(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="lamination", where=where, depth_fraction=float(rng.uniform(0.3, 0.7)), share=float(rng.uniform(0.3, 1)),
        at=float(rng.uniform()), width=_u(rng, 0.04, 0.12), contrast=float(rng.uniform(0.4, 0.9)),
        pieces=int(rng.integers(1, 4)), continuity=float(rng.uniform(0.85, 1.0)), waviness=float(rng.uniform(0, 0.02)),
        angle=float(rng.normal(0, 0.5)),
    )  # fmt: skip


def _banding(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="banding", where=where, depth_fraction=float(rng.uniform(0.3, 0.7)), share=float(rng.uniform(0.6, 1)),
        at=float(rng.uniform()), width=_u(rng, 0.04, 0.09), contrast=float(rng.uniform(0.12, 0.3)),
        pieces=int(rng.integers(2, 6)), continuity=float(rng.uniform(0.6, 0.9)), waviness=float(rng.uniform(0, 0.02)),
        soft=0.02, haz="stops", count=int(rng.integers(5, 14)), spacing=_u(rng, 0.2, 0.5),
    )  # fmt: skip


def _stringers(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="stringers", where=where, depth_fraction=float(rng.uniform(0.25, 0.75)), share=float(rng.uniform(0.4, 1)),
        at=float(rng.uniform()), width=_u(rng, 0.015, 0.05), contrast=float(rng.uniform(0.3, 0.7)),
        pieces=int(rng.integers(6, 16)), continuity=float(rng.uniform(0.4, 0.7)), count=int(rng.integers(1, 4)),
        spacing=_u(rng, 0.2, 0.8),
    )  # fmt: skip


def _rolled_in(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="rolled_in", where=where, depth_fraction=float(rng.uniform(0.03, 0.13)),
        share=float(rng.uniform(0.1, 0.4)),
        at=float(rng.uniform()), width=_u(rng, 0.03, 0.12), contrast=float(rng.uniform(0.3, 0.8)),
        waviness=float(rng.uniform(0, 0.03)), soft=float(rng.uniform(0, 0.03)), angle=float(rng.uniform(3, 20)),
    )  # fmt: skip


def _tear(rng: np.random.Generator, _: str) -> LineSpec:
    return LineSpec(
        kind="lamellar_tear", depth_fraction=float(rng.uniform(0.35, 0.6)), share=float(rng.uniform(0.3, 0.7)),
        at=0.5, width=_u(rng, 0.03, 0.1), contrast=float(rng.uniform(0.5, 0.9)), count=int(rng.integers(3, 7)),
        spacing=_u(rng, 0.15, 0.5), waviness=0.01, fusion="stops",
    )  # fmt: skip


def _haz_crack(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="haz_crack", where=where, share=float(rng.uniform(0.2, 0.5)), at=float(rng.uniform()),
        width=_u(rng, 0.02, 0.06), contrast=float(rng.uniform(0.5, 0.9)), waviness=float(rng.uniform(0.02, 0.05)),
        jagged=0.3, spacing=float(rng.uniform(0.15, 0.6)),
    )  # fmt: skip


def _lack(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="lack_of_fusion", where=where, share=float(rng.uniform(0.3, 0.7)), at=float(rng.uniform()),
        width=_u(rng, 0.04, 0.12), contrast=float(rng.uniform(0.5, 0.9)), fusion="passes",
    )  # fmt: skip


def _solidification(rng: np.random.Generator, _: str) -> LineSpec:
    return LineSpec(
        kind="solidification_crack", where="weld", share=float(rng.uniform(0.35, 0.7)), at=float(rng.uniform(0.3, 0.7)),
        width=_u(rng, 0.03, 0.1), contrast=float(rng.uniform(0.5, 0.9)), waviness=float(rng.uniform(0.02, 0.06)),
        jagged=0.5, fusion="passes",
    )  # fmt: skip


def _boundary(rng: np.random.Generator, _: str) -> LineSpec:
    return LineSpec(
        kind="grain_boundary", where="weld", share=float(rng.uniform(0.4, 0.8)), at=float(rng.uniform(0.3, 0.7)),
        width=_u(rng, 0.015, 0.04), contrast=float(rng.uniform(0.25, 0.5)), waviness=float(rng.uniform(0.02, 0.05)),
        jagged=0.6, fusion="passes",
    )  # fmt: skip


def _scratch(rng: np.random.Generator, _: str) -> LineSpec:
    return LineSpec(
        kind="scratch", where="face", share=float(rng.uniform(0.4, 0.9)), at=float(rng.uniform(0.3, 0.7)),
        width=_u(rng, 0.02, 0.06), contrast=float(rng.uniform(0.25, 0.6)), angle=float(rng.uniform(0, 180)),
        fusion="passes",
    )  # fmt: skip


def _scratches(rng: np.random.Generator, _: str) -> LineSpec:
    return LineSpec(
        kind="scratches", where="face", width=_u(rng, 0.02, 0.04), contrast=float(rng.uniform(0.15, 0.35)),
        angle=float(rng.uniform(0, 180)), fusion="passes", count=int(rng.integers(60, 220)),
        waviness=float(rng.choice([0.6, 3.0])),
    )  # fmt: skip


def _stain(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="stain", where=where, share=float(rng.uniform(0.15, 0.4)), at=float(rng.uniform()),
        width=_u(rng, 0.6, 1.6), contrast=float(rng.uniform(0.1, 0.3)), soft=float(rng.uniform(0.25, 0.5)),
        fusion="passes",
    )  # fmt: skip


def _lapped(rng: np.random.Generator, where: str) -> LineSpec:
    return LineSpec(
        kind="lapped_gap", where=where, depth_fraction=float(rng.uniform(0.3, 0.7)), share=1.0,
        width=_u(rng, 0.05, 0.15),
        contrast=float(rng.uniform(0.7, 0.95)),
    )  # fmt: skip


def _slag(rng: np.random.Generator, _: str) -> LineSpec:
    return LineSpec(
        kind="slag", where="weld", width=_u(rng, 0.15, 0.6), contrast=float(rng.uniform(0.5, 0.9)), fusion="passes",
        count=int(rng.integers(1, 4)),
    )  # fmt: skip


_MAKERS = {
    "segregation": _segregation, "lamination": _lamination, "banding": _banding, "stringers": _stringers,
    "rolled_in": _rolled_in, "lamellar_tear": _tear, "haz_crack": _haz_crack, "lack_of_fusion": _lack,
    "solidification_crack": _solidification, "grain_boundary": _boundary, "scratch": _scratch,
    "scratches": _scratches, "stain": _stain, "lapped_gap": _lapped, "slag": _slag,
}  # fmt: skip
