"""./run bench: measures the reader on simulated sections and prints what came out."""

import argparse
import json
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any


def options(words: list[str] | None = None) -> argparse.Namespace:
    """What was asked for."""
    parser = argparse.ArgumentParser(prog="./run bench", description=__doc__)
    parser.add_argument("--sections", type=int, default=100, metavar="N", help="a joint, difficulty moderate (100)")
    parser.add_argument("--any", type=int, default=40, metavar="N", help="a joint, difficulty any (40)")
    parser.add_argument("--baselines", type=int, default=10, metavar="N", help="a joint, for the baselines (10)")
    parser.add_argument("--first-seed", type=int, default=500_000, metavar="SEED", help="500000")
    parser.add_argument("--minutes", type=float, metavar="M", help="begin no new section of a block after M minutes")
    parser.add_argument("--quick", action="store_true", help="10 sections a joint, 2 for the baselines")
    parser.add_argument("--only", choices=list(JOBS), help="one part")
    parser.add_argument("--write", action="store_true", help="rewrite docs/benchmarks.md")
    parser.add_argument("--raw", metavar="FOLDER", help="keep every single figure as JSON in this folder")
    asked = parser.parse_args(words)
    if asked.quick:
        asked.sections, asked.any, asked.baselines = 10, 4, 2
    return asked


def accuracy(asked: argparse.Namespace) -> dict[str, Any]:
    """Both blocks; the harder one from seeds of its own."""
    from benchmarks.accuracy import run_block
    from benchmarks.pictures import APART

    first = asked.first_seed
    blocks = [(asked.sections, first, "moderate"), (asked.any, first + APART, "any")]
    return {"blocks": [run_block(*block, asked.minutes) for block in blocks if block[0] > 0]}


def baselines(asked: argparse.Namespace) -> dict[str, Any]:
    """General-library ways."""
    from benchmarks.baselines import run_baselines

    return run_baselines(asked.baselines, asked.first_seed, asked.minutes)


def edges(asked: argparse.Namespace) -> dict[str, Any]:
    """Painted steps."""
    from benchmarks.edges import REPEATS, run_edges

    return run_edges(10 if asked.quick else REPEATS)


def speed(asked: argparse.Namespace) -> dict[str, Any]:
    """Large photographs."""
    from benchmarks.speed import run_speed

    return {"sizes": run_speed(asked.first_seed)}


def causes(asked: argparse.Namespace) -> dict[str, Any]:
    """Described and painted cases of every cause."""
    from benchmarks.cause_pictures import run_painted
    from benchmarks.causes import run_causes

    described = run_causes(20 if asked.quick else 200, asked.first_seed + 300_000)
    return {"described": described, "painted": run_painted(1 if asked.quick else 5, asked.first_seed + 400_000)}


def book(asked: argparse.Namespace) -> dict[str, Any]:
    """A large book beside a small one."""
    from benchmarks.book import LARGE, run_book

    return run_book(10_000 if asked.quick else LARGE)


def lines(asked: argparse.Namespace) -> dict[str, Any]:
    """Lines found and measured."""
    from benchmarks.lines import run_lines

    folder = Path(asked.raw) if asked.raw else None
    return run_lines(10 if asked.quick else 110, asked.first_seed + 200_000, asked.minutes, folder)


def load(asked: argparse.Namespace) -> dict[str, Any]:
    """Twenty people at the bench."""
    from benchmarks.load import run_load

    return run_load(asked.first_seed + 600_000, 3 if asked.quick else 12)


def follow(asked: argparse.Namespace) -> dict[str, Any]:
    """Pictures of one face laid on each other."""
    from benchmarks.follow import run_follow

    return run_follow(12 if asked.quick else 60, asked.first_seed + 300_000, asked.minutes)


JOBS: dict[str, Callable[[argparse.Namespace], dict[str, Any]]] = {
    "accuracy": accuracy,
    "baselines": baselines,
    "book": book,
    "causes": causes,
    "edges": edges,
    "follow": follow,
    "lines": lines,
    "load": load,
    "speed": speed,
}


def main() -> None:
    """Measure, print and, when asked, keep."""
    asked = options()
    from benchmarks.machine import description
    from benchmarks.page import keep, tables_of

    print(f"Every figure is simulated. {description()}")
    for part in [asked.only] if asked.only else JOBS:
        begun = time.monotonic()
        machine = description()
        found = JOBS[part](asked)
        if asked.raw:
            Path(asked.raw).mkdir(exist_ok=True)
            (Path(asked.raw) / f"{part}.json").write_text(json.dumps(found, default=float), encoding="utf-8")
        tables = tables_of(part, found)
        for table in tables:
            print("\n" + table.text(), flush=True)
        print(f"{part}: {time.monotonic() - begun:.0f} s", file=sys.stderr)
        if asked.write:
            keep(part, tables, machine)


if __name__ == "__main__":
    main()
