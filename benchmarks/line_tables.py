"""The figures of the lines, gathered into tables."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from benchmarks.tables import Table, number, percent

NAMES = {
    "true outline": "ours, by the true outline",
    "own outline": "ours, by the reader's own outline",
    "Sato": "scikit-image sato, inside the true plates",
    "Meijering": "scikit-image meijering, inside the true plates",
    "Hough": "scikit-image probabilistic Hough, inside the true plates",
}
AIM = (0.98, 0.1, 0.01, 0.2, 1.5)


def line_tables(found: Mapping[str, Any]) -> list[Table]:
    """Found and false; root gaps; depth and width; the bound."""
    return [_found(found), _gaps(found), _measured(found), _bound(found)]


def _found(found: Mapping[str, Any]) -> Table:
    lined = [row for row in found["pictures"] if not row["clean"]]
    clean = [row for row in found["pictures"] if row["clean"]]
    heavy = [row for row in clean if row["heavy"]]
    rows = []
    for key, name in NAMES.items():
        hits = [row[key]["found"] for row in lined if key in row]
        false = [row[key]["false"] for row in clean if key in row]
        rows.append((
            name, f"{sum(hits)} of {len(hits)}", percent(float(np.mean(hits)) if hits else None),
            number(float(np.mean(false)) if false else None, 2),
            number(_mean([row[key]["false"] for row in heavy if key in row]), 2),
        ))  # fmt: skip
    ours = [row["true outline"] for row in lined]
    share = float(np.mean([one["found"] for one in ours])) if ours else 0.0
    wrong = float(np.mean([row["true outline"]["false"] for row in clean])) if clean else 0.0
    own = float(np.mean([row["own outline"]["found"] for row in lined])) if lined else 0.0
    return Table(
        title="Lines found",
        before=[
            f"Simulated, {len(lined)} pictures of 1600 x 1200 px at 28 to 60 px/mm with one line of at least 30 % of "
            f"the member's length, contrast 0.15 or more and 40 µm or wider, and {len(clean)} clean ones, "
            f"{len(heavy)} of them scratched heavily; difficulties plain, moderate and any in turn. The libraries' "
            "ways are tried on every fifth of them."
        ],
        head=("way", "found", "share", "false per clean picture", "the same, scratched heavily"),
        rows=rows,
        after=[
            f"Aim: 98 % found, at most 0.1 false. By the true outline {percent(share)} and {wrong:.2f}; by the "
            f"reader's own outline {percent(own)}: where the reader finds no outline, or one far from the truth, the "
            "line may be missed.",
            " ".join(
                f"On {size} the search takes {found[key]['seconds']:.2f} s beyond the reading, warm "
                f"({found[key]['busy']:.2f} s of work), and asks for {found[key]['peak_mb']:.0f} MB more{aim}."
                for key, size, aim in (("large", "12 MP", " (aim 1.5 s)"), ("huge", "48 MP", ""))
                if key in found
            ),
        ],
    )


def _gaps(found: Mapping[str, Any]) -> Table:
    shown = [row for row in found["pictures"] if row["gap"]]
    rows = []
    for key in ("true outline", "own outline"):
        told = [row[key]["gaps"] for row in shown]
        rows.append((NAMES[key], str(len(shown)), str(sum(told)), str(sum(1 for one in told if one))))
    return Table(
        title="Root gaps told as lines",
        before=[
            "Of the same pictures, those of tees, laps and butts in which plates meet unfused for at least 0.5 mm, "
            "open or touching. A line counts as the gap where 30 % of it or more lies on it."
        ],
        head=("way", "pictures with a root gap", "lines on one", "pictures with such a line"),
        rows=rows,
        after=["Aim: none."],
    )


def _measured(found: Mapping[str, Any]) -> Table:
    rows = []
    for key in ("true outline", "own outline"):
        scored = [row[key] for row in found["pictures"] if row[key].get("found")]
        depth = np.abs([one["depth"] for one in scored if "depth" in one])
        wide = [one for one in scored if one["true_px"] >= AIM[4]]
        told = np.abs([one["width"] for one in wide if "width" in one])
        bounds = [one["limit_holds"] for one in scored if "limit_holds" in one]
        rows.append((
            NAMES[key], number(_median(depth), 4), percent(_share(depth < AIM[2])), f"{len(told)} of {len(wide)}",
            number(_median(told), 3), percent(_share(told < AIM[3])), f"{sum(bounds)} of {len(bounds)}",
        ))  # fmt: skip
    return Table(
        title="Lines measured",
        before=["Of the lines found: depth over thickness, and width (full width at half depth, blur taken out)."],
        head=(
            "way", "depth error, median", "within 0.01", "width told, of those 1.5 px or wider",
            "relative width error, median", "within 20 %", "upper bound held, where only that was told",
        ),
        rows=rows,
        after=["Aim: depth within 0.01, width within 20 % from 1.5 px on, a true upper bound below."],
    )  # fmt: skip


def _bound(found: Mapping[str, Any]) -> Table:
    rows = [
        (number(one["width"], 1), number(one["blur"], 1), number(one["rms"], 4), number(one["bound"], 4),
         number(one["rms"] / one["bound"], 2))
        for one in found["bound"]
    ]  # fmt: skip
    worst = max(one["rms"] / one["bound"] for one in found["bound"])
    return Table(
        title="Width of painted profiles beside the Cramér–Rao bound",
        head=("width, px", "blur, px", "rms error, px", "bound, px", "ratio"),
        rows=rows,
        after=[f"Aim: at most 1.5 times the bound; the worst is {worst:.2f}."],
    )


def _mean(values: Any) -> float | None:
    return float(np.mean(values)) if len(values) else None


def _median(values: Any) -> float | None:
    return float(np.median(values)) if len(values) else None


def _share(flags: Any) -> float | None:
    return float(np.mean(flags)) if len(flags) else None
