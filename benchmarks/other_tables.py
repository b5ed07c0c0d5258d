"""The figures of baselines, edges and speed, gathered into tables."""

from collections.abc import Mapping, Sequence
from typing import Any

from benchmarks.baselines import MEGAPIXELS, SEEDS
from benchmarks.edges import ALONG, ANGLES, LENGTH, STIFF
from benchmarks.scores import median
from benchmarks.speed import TARGETS
from benchmarks.tables import Table, number

Found = Mapping[str, Any]
LIMIT = 1.3


def baseline_table(found: Found) -> Table:
    """General-library ways beside ours."""
    pictures = found["pictures"]
    names = list(pictures[0]) if pictures else []
    figures = {name: [median([one[name][k] for one in pictures]) for k in range(3)] for name in names}
    rows = [(name, number(figures[name][0]), number(figures[name][1]), number(figures[name][2], 2)) for name in names]
    return Table(
        title="General-library baselines on the same simulated pictures",
        before=[
            f"Simulated, difficulty “moderate”, {len(pictures)} pictures (the first of each joint above). The "
            f"baselines work on the picture reduced to about {MEGAPIXELS} MP (at twice the side the walker takes "
            "minutes), ours "
            "on the whole picture; all are compared with the truth at the reduced size. Clusters are named in the way "
            f"that scores best by the truth; seeds are {SEEDS} small discs a class laid by the truth: ours gets "
            "neither. Ours measures the section in its time too; two pictures are worked on at once."
        ],
        head=("way", "weld IoU, median", "HAZ IoU, median", "seconds, median"),
        rows=rows,
        after=[_beaten(figures)] if figures else [],
    )


def _beaten(figures: Mapping[str, list[float | None]]) -> str:
    *others, ours = figures
    better = [
        f"{others_name} has the better {what}"
        for others_name in others
        for k, what in ((0, "weld IoU"), (1, "HAZ IoU"))
        if (figures[others_name][k] or 0) >= (figures[ours][k] or 0)
    ]
    walker = next(name for name in others if "walker" in name)
    if (figures[ours][2] or 0) >= (figures[walker][2] or 0):
        better.append("the random walker is faster")
    return (
        "Falls short: "
        + ("; ".join(better) if better else "nothing; ours is better than each, in less time than the random walker")
        + "."
    )


def edge_table(found: Found) -> Table:
    """Traced edges beside the bound."""
    rows = [
        (
            number(row["height"] / row["noise"], 1), number(row["blur"], 0), number(row["rms"]),
            number(row["point_ratio"], 2), number(row["line_ratio"], 2), f"{row['bias']:+.4f} ± {row['bias_sd']:.4f}",
            number(row["said"], 2),
        )
        for row in found["rows"]
    ]  # fmt: skip
    short = [
        f"A/σn {row[0]}, σ {row[1]} px: point {row[3]}, edge {row[4]}"
        for row in rows
        if max(float(row[3]), float(row[4])) > LIMIT
    ]
    averaged = ", ".join(f"{n:.0f} at σ {float(b):.0f} px" for b, (n, _) in found["weights"].items())
    total = ", ".join(f"{s:.2f}" for _, s in found["weights"].values())
    return Table(
        title="Sub-pixel edges against the Cramér–Rao bound",
        before=[
            f"Simulated: straight blurred steps {LENGTH} px long in white noise, at {_list(ANGLES)}°, each "
            f"{found['repeats']} times, first guess off by up to 1.5 px, averaged along {ALONG:.0f} px and bends "
            f"below {STIFF:.0f} px smoothed away, as for the face of a 10 mm weld at 40 px/mm. "
            "Bound: 1.883 √σ σn / (A √N). "
            "For a point, N = (Σw)²/Σw², with the weight w of each profile measured by shaking the columns of a "
            f"painted edge and correlating ({averaged}; Σw {total}). For the whole edge, the mean over its length, N "
            "is simply its length in pixels."
        ],
        head=("A/σn", "blur σ px", "RMS error px", "point / bound", "whole edge / bound", "bias px", "stated sd / RMS"),
        rows=rows,
        after=["Falls short of 1.3 times the bound: " + ("; ".join(short) if short else "nowhere") + "."],
    )


def _list(numbers: Sequence[float]) -> str:
    return ", ".join(f"{value:.0f}" for value in numbers)


def speed_table(found: Found) -> Table:
    """Seconds and memory, aims beside."""
    rows, short = [], []
    for name, one in found["sizes"].items():
        seconds, memory = TARGETS[name]
        for kind, words in (
            ("warm", "library, warm, best of 3"),
            ("cold", "command, cold, best of 3"),
            ("report", "command with PDF and judgement"),
        ):
            rows.append(
                (
                    name,
                    words,
                    number(one[kind]["seconds"], 2),
                    number(one[kind]["cpu"], 2),
                    f"{one[kind]['peak']:.0f}",
                    f"{memory:.0f} MB" if kind == "warm" else "",
                )
            )
        alone = one["warm"]["seconds"] - one["warm"]["search"]
        rows.append(
            (name, "of the warm call, all but the search for lines", number(alone, 2), "", "", f"{seconds:.1f} s")
        )
        if alone > seconds:
            short.append(f"{name} warm takes {alone:.2f} s without the search for lines instead of {seconds:.1f} s")
        if one["warm"]["peak"] > memory:
            short.append(f"{name} warm peaks at {one['warm']['peak']:.0f} MB instead of {memory:.0f} MB")
    opening = ", ".join(f"{one['warm']['opening']:.2f} s at {name}" for name, one in found["sizes"].items())
    return Table(
        title="Time and memory",
        before=[
            "One simulated tee, difficulty “moderate”, kept as JPEG; JSON is written by the command. The file lies in "
            f"the system's cache. Of the warm call, opening the photograph takes {opening}. The search for lines "
            "has an aim of its own, under “Lines measured”, so the aim here is for all the rest. Seconds by the clock "
            "grow with what else the machine does; seconds of the processors, of all threads together, hardly do."
        ],
        head=("photograph", "way", "seconds", "of the processors", "peak memory MB", "aim"),
        rows=rows,
        after=["Falls short: " + ("; ".join(short) if short else "nothing") + "."],
    )
