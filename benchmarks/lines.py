"""Finding and measuring lines on painted sections: by the true outline, by the reader's own, and by libraries."""

import json
import sys
import time
import tracemalloc
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
from scipy.spatial import cKDTree

from benchmarks.line_baselines import METHODS, plate_of
from benchmarks.line_outlines import true_outline
from benchmarks.line_roots import on_root_gap, shows_root_gap
from benchmarks.pictures import HEIGHT, WIDTH
from etchbook.joint import Joint
from etchbook.picture import Picture, Scale
from etchbook.quantity import Measured
from etchbook.section import Indication, read_section
from etchbook.section.indications import find_indications
from etchbook.section.indications.profiles import bar, bound, fit_profile, half_width
from etchbook.simulate import LineSpec, PaintedSection, paint_section
from etchbook.terms import FAMILIES, Family

FIRST_SEED = 700_000
DIFFICULTIES = ("plain", "moderate", "any")
CLEAN_APART = 5_000
"""Clean pictures have seeds of their own, this far from those with a line."""
BASELINES_EVERY = 5
"""The libraries' ways take as long as all the rest: they are tried on every fifth picture."""
LARGE, HUGE = (4000, 3000, 110.0), (8000, 6000, 220.0)
"""Pictures of 12 and 48 MP: width, height, px/mm."""
NEAR = 4.0
"""A line is found where at least 30 % of it lies this near to what was traced [px]."""

ON_GAP = 0.3
"""A line with this share of it on the gap between the plates tells the gap."""


def run_lines(
    count: int, first_seed: int = FIRST_SEED, minutes: float | None = None, folder: Path | None = None
) -> dict[str, Any]:
    """So many pictures with one line and so many clean ones, every second clean one scratched heavily.

    Parameters
    ----------
    folder : where each picture's figures are kept as they come; a run that broke off is taken up from there
    """
    begun, kept = time.monotonic(), None if folder is None else folder / "lines.jsonl"
    rows = _held(kept)
    done = {(row["seed"], row["clean"]) for row in rows}
    for k in range(count):
        if minutes is not None and time.monotonic() - begun > 60 * minutes:
            break
        for clean in (False, True):
            seed = first_seed + k + (CLEAN_APART if clean else 0)
            row = None if (seed, clean) in done else _one(seed, clean, k % BASELINES_EVERY == 0)
            if row is not None:
                rows.append(row)
                _keep(kept, row)
        print(f"lines: {k + 1} of {count}", file=sys.stderr, flush=True)
    large = {"large": large_picture(first_seed), "huge": large_picture(first_seed, HUGE)}
    return {"pictures": rows, "bound": profile_bound(), **large}


def _held(kept: Path | None) -> list[dict[str, Any]]:
    if kept is None or not kept.exists():
        return []
    return [json.loads(line) for line in kept.read_text(encoding="utf-8").splitlines() if line]


def _keep(kept: Path | None, row: Mapping[str, Any]) -> None:
    if kept is not None:
        kept.parent.mkdir(exist_ok=True)
        with kept.open("a", encoding="utf-8") as out:
            out.write(json.dumps(row, default=float) + "\n")


def _one(seed: int, clean: bool, beside: bool) -> dict[str, Any] | None:
    family: Family = FAMILIES[seed % len(FAMILIES)]
    rng = np.random.default_rng([seed, 31])
    px = float(rng.uniform(28.0, 60.0))
    line = aimed_line(rng, family)
    heavy = clean and seed % 2 == 1
    wanted = ([_heavy(rng)] if heavy else []) if clean else [line]
    section = paint_section(
        family, seed, width=WIDTH, height=HEIGHT, difficulty=DIFFICULTIES[seed % 3],  # type: ignore[arg-type]
        px_per_mm=px, lines=wanted,
    )  # fmt: skip
    if not clean and (not section.truth.lines or section.truth.lines[0].share < 0.3):
        return None
    scale = Scale(px_per_mm=section.truth.px_per_mm, u=0.001 * px, origin="given")
    outline, regions = true_outline(section)
    begun = time.perf_counter()
    ours = find_indications(section.picture, outline, regions, family, scale)
    took = time.perf_counter() - begun
    read = read_section(section.picture, Joint(family=family), scale)
    row = {"clean": clean, "heavy": heavy, "seed": seed, "family": family, "seconds": took}
    row["gap"] = shows_root_gap(section)
    row["true outline"] = _scored(section, ours)
    row["own outline"] = _scored(section, read.indications)
    plate = plate_of(section) if beside else None
    for name, method in METHODS.items() if plate is not None else ():
        row[name] = _counted(section, method(section.picture, plate, 0.25 * _free(section, px)))
    return row


def aimed_line(rng: np.random.Generator, family: Family) -> LineSpec:
    """A line as the aim names it: 30 % of the length or more, contrast 0.15 or more, 40 µm or wider."""
    return LineSpec(
        kind="segregation" if rng.uniform() < 0.5 else "lamination",
        where="member_1" if family == "bead" or rng.uniform() < 0.5 else "member_2",
        depth_fraction=float(rng.uniform(0.2, 0.8)), share=float(rng.uniform(0.3, 1.0)), at=float(rng.uniform()),
        width=float(rng.uniform(0.04, 0.15)), contrast=float(rng.uniform(0.15, 0.7)), pieces=int(rng.integers(1, 4)),
        continuity=float(rng.uniform(0.85, 1.0)), waviness=float(rng.uniform(0, 0.02)),
        soft=float(rng.choice([0.0, 0.02])), angle=float(rng.normal(0, 0.4)),
    )  # fmt: skip


def _heavy(rng: np.random.Generator) -> LineSpec:
    return LineSpec(
        kind="scratches", where="face", width=float(rng.uniform(0.02, 0.04)), contrast=float(rng.uniform(0.15, 0.35)),
        angle=float(rng.uniform(0, 180)), count=int(rng.integers(60, 220)),
        waviness=float(rng.choice([0.6, 3.0, 10.0])),
    )  # fmt: skip


def _free(section: PaintedSection, px: float) -> float:
    lines = section.truth.lines
    return lines[0].length_mm / max(lines[0].share, 0.1) * px if lines and lines[0].share else 0.5 * WIDTH


def _scored(section: PaintedSection, found: tuple[Indication, ...]) -> dict[str, Any]:
    """Whether the line was found, how many are false, and how far depth and width are off."""
    lines = [one for one in found if one.kind != "blob"]
    truth = next((line for line in section.truth.lines if line.px), None)
    told = sum(1 for one in lines if on_root_gap(section, one.points) > ON_GAP)
    if truth is None:
        return {"found": None, "false": len(lines), "gaps": told}
    chain = np.concatenate(truth.px)
    shares = [(_share(chain, one.points), _share(one.points, chain), one) for one in lines]
    false = sum(1 for _, back, _ in shares if back <= 0.5)
    best = max(shares, key=lambda each: each[0], default=None)
    if best is None or best[0] < 0.3:
        return {"found": False, "false": false, "gaps": told}
    scored: dict[str, Any] = {"found": True, "false": false, "gaps": told}
    one, px = best[2], section.truth.px_per_mm
    if isinstance(one.depth_fraction, Measured) and truth.depth_fraction is not None:
        scored["depth"] = one.depth_fraction.value - truth.depth_fraction
    true_mm = half_width(truth.width_px, truth.spec.soft * px) / px
    scored["true_px"] = true_mm * px
    if isinstance(one.width, Measured):
        scored["width"] = one.width.value / true_mm - 1
    elif isinstance(one.width_limit, Measured):
        scored["limit_holds"] = bool(one.width_limit.value >= true_mm)
    return scored


def _counted(section: PaintedSection, chains: list[Any]) -> dict[str, Any]:
    """The same for chains of points without anything measured."""
    truth = next((line for line in section.truth.lines if line.px), None)
    if truth is None:
        return {"found": None, "false": len(chains)}
    target = np.concatenate(truth.px)
    own = [chain for chain in chains if _share(chain, target) > 0.5]
    found = bool(own) and _share(target, np.concatenate(own)) >= 0.3
    return {"found": found, "false": len(chains) - len(own)}


def _share(points: Any, other: Any) -> float:
    """Share of points that lie near others."""
    return float((cKDTree(other).query(points)[0] < NEAR).mean()) if len(points) and len(other) else 0.0


def profile_bound(repeats: int = 300) -> list[dict[str, float]]:
    """Scatter of the fitted width on painted profiles beside the Cramér–Rao bound."""
    rng, x, rows = np.random.default_rng(7), np.arange(-14.0, 15.0), []
    for width, blur in ((1.5, 0.8), (2.0, 1.0), (3.0, 1.0), (5.0, 1.3), (8.0, 1.5)):
        clean = 0.6 - 0.2 * bar(x - 0.3, width, blur)
        noise = 0.002
        fits = [fit_profile(x, clean + rng.normal(0, noise, len(x)), blur).width for _ in range(repeats)]
        least = bound(x, width, blur, 0.3, 0.2, noise)
        rms = float(np.sqrt(np.mean((np.array(fits) - width) ** 2)))
        rows.append({"width": width, "blur": blur, "rms": rms, "bound": least})
    return rows


def large_picture(seed: int, size: tuple[int, int, float] = LARGE) -> Mapping[str, float]:
    """Seconds that the search takes on a large picture, warm, best of three, and the memory that it asks for more."""
    width, height, px = size
    spec = LineSpec(kind="segregation", share=0.8, width=0.08, contrast=0.25)
    section = paint_section("tee", seed, width=width, height=height, difficulty="plain", px_per_mm=px, lines=[spec])
    outline, regions = true_outline(section)
    picture: Picture = section.picture
    times, scale = [], Scale(px_per_mm=px, u=0.1, origin="given")
    for _ in range(3):
        begun, busy = time.perf_counter(), time.process_time()
        find_indications(picture, outline, regions, "tee", scale)
        times.append((time.perf_counter() - begun, time.process_time() - busy))
    tracemalloc.start()
    find_indications(picture, outline, regions, "tee", scale)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return {"seconds": min(times)[0], "busy": min(one[1] for one in times), "peak_mb": peak / 1e6}
