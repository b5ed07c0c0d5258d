"""Jobs that take long: each in a process of its own, one at a time, told as they go on, stopped when asked."""

import contextlib
import multiprocessing
import os
import secrets
import threading
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import IO

from etchbook.usecases import RefusedError
from etchbook.wiring.apart import end_with_parent
from etchbook.wiring.benchjobs import Order, carry_out, forget
from etchbook.wiring.notes import JobNotes, Noted

MOST_WAITING = 40
MOST_TRIES = 3
KEPT = 200
PATIENCE = 10
"""By how much a reading steps back behind what people at the bench wait for [nice]."""
OVER = ("done", "refused", "stopped", "interrupted")
INTERRUPTED = f"the bench was stopped {MOST_TRIES} times in the middle of it: begin it again when you wish"


class BusyError(RefusedError):
    """Too many jobs wait already."""


def _in_process(order: Order, pipe: Connection) -> None:
    end_with_parent()
    if hasattr(os, "nice"):
        os.nice(PATIENCE)
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
    tries: int = 0
    stopped: bool = False
    process: BaseProcess | None = None

    @property
    def over(self) -> bool:
        """Whether nothing more will come by itself."""
        return self.state in OVER

    def told(self) -> dict[str, str]:
        """How far the job is, as words."""
        return {"id": self.id, "state": self.state, "step": self.step, "result": self.result, "picture": self.picture}


@dataclass(slots=True)
class Jobs:
    """The jobs of one bench; what is confirmed is on the disk before it is."""

    notes: JobNotes
    at_once: int = 1
    _live: dict[str, Job] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _turns: threading.Semaphore = field(init=False)
    _closing: bool = False

    def __post_init__(self) -> None:
        self._turns = threading.Semaphore(self.at_once)

    def begin(self, order: Order, photo: IO[bytes] | None = None, name: str = "", key: str = "") -> Job:
        """Take a job in; it is carried out when its turn comes.

        Parameters
        ----------
        photo, name : a photograph that came, and its name on the person's machine
        key : the same upload sent again under the same key gives the first job, "" always begins one
        """
        from dataclasses import replace

        if known := self.get(self.notes.known(key, order.code)):
            return known
        self._room()
        if photo is not None:
            order = replace(order, upload=self.notes.take_in(photo, name), called=name)
        job = Job(id=secrets.token_urlsafe(9), order=order)
        written = self.notes.write(job.id, order, key)
        if written != job.id and (first := self.get(written)):
            return first
        return self._start(job)

    def resume(self) -> None:
        """Go on with what a bench before us did not bring to its end."""
        for noted in self.notes.left():
            job = _job(noted)
            if job.tries < MOST_TRIES:
                job.step = "begun again, for the bench was stopped in the middle of it"
                self._start(job)
            else:
                self._tell(job, "interrupted", INTERRUPTED)

    def again(self, job: Job) -> Job:
        """Begin a job again that was interrupted."""
        if job.state != "interrupted":
            raise RefusedError("only a job that was interrupted can be begun again")
        job.tries, job.stopped = 0, False
        self._tell(job, "waiting", "waiting for its turn")
        self.notes.tell(job.id, tries=0, owner=self.notes.hold.name)
        return self._start(job)

    def get(self, name: str) -> Job | None:
        """The job of that name, also one of before the bench was last started."""
        if live := self._live.get(name):
            return live
        noted = self.notes.get(name) if name else None
        return _job(noted) if noted else None

    def newest(self, limit: int, before: str = "") -> list[Job]:
        """Jobs, the newest first, a page at a time."""
        return [self._live.get(one.id) or _job(one) for one in self.notes.newest(limit, before)]

    def under_way(self, code: str) -> tuple[Job, ...]:
        """Jobs on a face or picture that are not over, and those that were interrupted."""
        wanted = ("waiting", "running", "interrupted")
        live = tuple(self._live.values())
        return tuple(one for one in live if one.state in wanted and code in (one.order.code, one.picture))

    def stop(self, job: Job) -> None:
        """Stop a job; a photograph that is in the book already stays there."""
        job.stopped = True
        if job.process is not None and job.process.is_alive():
            job.process.terminate()
        elif job.state in ("waiting", "interrupted"):
            self._tell(job, "stopped", "stopped before it began")
            forget(job.order.upload)

    def close(self) -> None:
        """End what runs; it is gone on with when the bench is started again."""
        self._closing = True
        for job in tuple(self._live.values()):
            if job.process is not None and job.process.is_alive():
                job.process.terminate()
        self.notes.close()

    def _room(self) -> None:
        if sum(not one.over for one in tuple(self._live.values())) >= MOST_WAITING:
            raise BusyError(f"{MOST_WAITING} pictures wait to be read already: send this one again in a while")

    def _start(self, job: Job) -> Job:
        with self._lock:
            for old in [one.id for one in self._live.values() if one.over][: max(0, len(self._live) - KEPT)]:
                del self._live[old]
            self._live[job.id] = job
        threading.Thread(target=self._run, args=(job,), daemon=True).start()
        return job

    def _tell(self, job: Job, state: str, step: str, *, result: str = "") -> None:
        """Go on to another state, and write it down unless it will be gone on with at the next start."""
        moved = state != job.state
        job.state, job.step, job.result = state, step, result
        with self._lock:
            self._live.setdefault(job.id, job)
        if moved and not self._closing:
            self.notes.tell(job.id, state=state, step=step, result=result)

    def _run(self, job: Job) -> None:
        with self._turns:
            if not job.stopped and not self._closing:
                self._watch(job)
        if job.over and not self._closing and job.state != "interrupted":
            forget(job.order.upload)

    def _watch(self, job: Job) -> None:
        ours, theirs = multiprocessing.get_context("spawn").Pipe(duplex=False)
        process = multiprocessing.get_context("spawn").Process(
            target=_in_process, args=(job.order, theirs), daemon=True
        )
        job.process = process
        job.tries += 1
        self.notes.tell(job.id, tries=job.tries)
        self._tell(job, "running", job.step if job.tries > 1 else "getting ready")
        process.start()
        theirs.close()
        if job.stopped or self._closing:
            process.terminate()
        with contextlib.suppress(EOFError, OSError):
            while True:
                self._heard(job, *ours.recv())
        process.join()
        ours.close()
        if not job.over and not self._closing:
            words = "stopped; nothing half-done was kept" if job.stopped else "it ended without a word: try it again"
            self._tell(job, "stopped" if job.stopped else "refused", words)

    def _heard(self, job: Job, kind: str, text: str) -> None:
        if kind == "step":
            self._tell(job, "running", text)
        elif kind == "kept":
            job.picture = text
            self.notes.tell(job.id, picture=text)
            forget(job.order.upload)
            self._tell(job, "running", f"the photograph is kept as {text}")
        elif kind == "done":
            self._tell(job, "done", "done", result=text)
        else:
            forget(job.order.upload)
            self._tell(job, "refused", text)


def _job(noted: Noted) -> Job:
    return Job(id=noted.id, order=noted.order, step=noted.step, state=noted.state, result=noted.result,
               picture=noted.picture, tries=noted.tries)  # fmt: skip
