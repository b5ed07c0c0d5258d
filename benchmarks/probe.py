"""Run by `speed` in a process of its own: times one command or one library call, and says the peak memory."""

import json
import os
import resource
import subprocess
import sys
import time
from types import ModuleType
from typing import Any

REPEATS = 3
FIND = "find_indications"


def peak_mb(who: int) -> float:
    """Largest resident memory so far [MB]."""
    size = resource.getrusage(who).ru_maxrss
    return size / 1e6 if sys.platform == "darwin" else size * 1024 / 1e6


def command(words: list[str]) -> dict[str, float]:
    """One run of a command from start to end."""
    # A package that was installed has been compiled; one run straight from its sources may be forbidden to keep that.
    here = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    begun = time.perf_counter()
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL, env=here)
    seconds = time.perf_counter() - begun
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return {"seconds": seconds, "cpu": spent.ru_utime + spent.ru_stime, "peak": peak_mb(resource.RUSAGE_CHILDREN)}


def library(photo: str, scale: float) -> dict[str, float]:
    """The best of several readings in one process, opening the photograph included."""
    from etchbook.files import load_photo
    from etchbook.joint import Joint
    from etchbook.picture import Scale
    from etchbook.section import read_section, reader

    searches = timed(reader, FIND)
    times = []
    for _ in range(REPEATS):
        begun, worked = time.perf_counter(), time.process_time()
        picture = load_photo(photo)
        opened = time.perf_counter() - begun
        reading = read_section(picture, Joint(family="tee"), Scale(px_per_mm=scale, u=0.0, origin="given"))
        times.append((time.perf_counter() - begun, opened, searches.pop(), time.process_time() - worked))
        there = sum(1 for one in reading.dimensions.values() if hasattr(one, "value"))
        del picture, reading
    seconds, opened, search, _ = min(times)
    cpu = min(worked for *_, worked in times)
    peak = peak_mb(resource.RUSAGE_SELF)
    return {"seconds": seconds, "cpu": cpu, "opening": opened, "search": search, "peak": peak, "read": there}


def timed(room: ModuleType, name: str) -> list[float]:
    """Seconds that each call of a room's function will have taken, in the order of the calls."""
    whole, seconds = getattr(room, name), []

    def call(*what: Any, **more: Any) -> Any:
        begun = time.perf_counter()
        try:
            return whole(*what, **more)
        finally:
            seconds.append(time.perf_counter() - begun)

    setattr(room, name, call)
    return seconds


if __name__ == "__main__":
    kind, *rest = sys.argv[1:]
    print(json.dumps(command(rest) if kind == "command" else library(rest[0], float(rest[1]))))
