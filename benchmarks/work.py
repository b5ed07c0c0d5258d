"""A few workers (two unless ETCHBOOK_BENCH_WORKERS says otherwise), fed until the work or the time is used up."""

import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from multiprocessing import get_context
from typing import TypeVar

T = TypeVar("T")
R = TypeVar("R")
WORKERS = int(os.environ.get("ETCHBOOK_BENCH_WORKERS", "2"))


def shared_out(job: Callable[[T], R], tasks: Iterable[T], *, name: str, minutes: float | None) -> Iterator[R]:
    """What `job` makes of each task, in any order; no new task is begun when the minutes are over."""
    for variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(variable, "1")  # two workers on two cores: threads below them would only quarrel
    begun, waiting, done = time.monotonic(), iter(tasks), 0
    with ProcessPoolExecutor(WORKERS, mp_context=get_context("spawn")) as pool:
        running: set[Future[R]] = set()
        while True:
            late = minutes is not None and time.monotonic() - begun > 60 * minutes
            while not late and len(running) < WORKERS + 1 and (task := next(waiting, None)) is not None:
                running.add(pool.submit(job, task))
            if not running:
                return
            finished, running = wait(running, return_when=FIRST_COMPLETED)
            for future in finished:
                done += 1
                if done % 10 == 0:
                    print(f"{name}: {done} done, {time.monotonic() - begun:.0f} s", file=sys.stderr, flush=True)
                yield future.result()
