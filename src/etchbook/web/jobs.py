"""Jobs that take long: each in a process of its own, one at a time, told as they go on, stopped when asked."""

import contextlib
import multiprocessing
import secrets
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from etchbook.usecases import RefusedError
from etchbook.wiring.benchjobs import Order, carry_out, forget

MOST_WAITING = 40
KEPT = 200


class BusyError(RefusedError):
    """Too many jobs wait already."""


def _in_process(order: Order, pipe: Connection) -> None:
    carry_out(order, lambda kind, text: pipe.send((kind, text)))
    pipe.close()


@dataclass(slots=True)
class Job:
    """One job: what it is, how far it is, and what came of it."""

    id: str
    order: Order
    step: str = "waiting for its turn"
    state: str = "waiting"
    result: str = ""
    picture: str = ""
    stopped: bool = False
    process: BaseProcess | None = None
    moved: threading.Condition = field(default_factory=threading.Condition)

    @property
    def over(self) -> bool:
        """Whether nothing more will come."""
        return self.state in ("done", "refused", "stopped")

    def told(self) -> dict[str, str]:
        """How far the job is, as words."""
        return {"id": self.id, "state": self.state, "step": self.step, "result": self.result, "picture": self.picture}

    def tell(self, state: str, step: str, *, result: str = "") -> None:
        """Go on to another state and wake those who look."""
        with self.moved:
            self.state, self.step, self.result = state, step, result
            self.moved.notify_all()


class Jobs:
    """The jobs of one bench."""

    def __init__(self, at_once: int = 1) -> None:
        self._jobs: dict[str, Job] = {}
        self._keys: dict[str, Job] = {}
        self._asking = threading.Lock()
        self._lock = threading.Lock()
        self._turns = threading.Semaphore(at_once)

    def begin(self, order: Order) -> Job:
        """Take a job in; it is carried out when its turn comes."""
        job = Job(id=secrets.token_urlsafe(9), order=order)
        with self._lock:
            if sum(not one.over for one in self._jobs.values()) >= MOST_WAITING:
                raise BusyError(f"{MOST_WAITING} pictures wait to be read already: send this one again in a while")
            for old in [one.id for one in self._jobs.values() if one.over][: max(0, len(self._jobs) - KEPT)]:
                del self._jobs[old]
            self._jobs[job.id] = job
        threading.Thread(target=self._run, args=(job,), daemon=True).start()
        return job

    def once(self, key: str, make: Callable[[], Job]) -> Job:
        """The job that was begun under that key, or a new one; "" always begins one."""
        if not key:
            return make()
        with self._asking:
            if key not in self._keys:
                while len(self._keys) >= KEPT:
                    del self._keys[next(iter(self._keys))]
                self._keys[key] = make()
            return self._keys[key]

    def get(self, name: str) -> Job | None:
        """The job of that name."""
        return self._jobs.get(name)

    def under_way(self, code: str) -> tuple[Job, ...]:
        """Jobs on a face or picture that are not over."""
        return tuple(one for one in self._jobs.values() if not one.over and code in (one.order.code, one.picture))

    def stop(self, job: Job) -> None:
        """Stop a job; a photograph that is in the book already stays there."""
        job.stopped = True
        if job.process is not None and job.process.is_alive():
            job.process.terminate()
        elif job.state == "waiting":
            job.tell("stopped", "stopped before it began")

    def close(self) -> None:
        """Stop everything."""
        for job in tuple(self._jobs.values()):
            if not job.over:
                self.stop(job)

    def _run(self, job: Job) -> None:
        try:
            with self._turns:
                if not job.stopped:
                    self._watch(job)
        finally:
            forget(job.order.upload)

    def _watch(self, job: Job) -> None:
        ours, theirs = multiprocessing.get_context("spawn").Pipe(duplex=False)
        process = multiprocessing.get_context("spawn").Process(
            target=_in_process, args=(job.order, theirs), daemon=True
        )
        job.process = process
        job.tell("running", "getting ready")
        process.start()
        theirs.close()
        if job.stopped:
            process.terminate()
        with contextlib.suppress(EOFError, OSError):
            while True:
                self._heard(job, *ours.recv())
        process.join()
        ours.close()
        if not job.over:
            words = "stopped; nothing half-done was kept" if job.stopped else "it ended without a word: try it again"
            job.tell("stopped" if job.stopped else "refused", words)

    @staticmethod
    def _heard(job: Job, kind: str, text: str) -> None:
        if kind == "step":
            job.tell("running", text)
        elif kind == "kept":
            job.picture = text
            job.tell("running", f"the photograph is kept as {text}")
        elif kind == "done":
            job.tell("done", "done", result=text)
        else:
            job.tell("refused", text)
