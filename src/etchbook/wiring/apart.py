"""Work in processes apart: what decodes a file from a stranger, or takes long, never runs where pages are made."""

import contextlib
import multiprocessing
import os
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Any

from etchbook.usecases import RefusedError

MOST = max(2, min(4, (os.cpu_count() or 2) // 2))
"""Processes of a lane."""


class EndedError(RefusedError):
    """The process that worked on it ended without an answer."""


def end_with_parent() -> None:
    """Let this process end as soon as the one that started it is gone, however it went."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_outlive, args=(parent.sentinel,), daemon=True).start()


def _outlive(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)


def _work(pipe: Connection, patience: int) -> None:
    """Carry out what comes, one after the other, until nobody asks any more."""
    if patience and hasattr(os, "nice"):
        os.nice(patience)
    for variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(variable, "1")
    end_with_parent()
    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            call, args = pipe.recv()
            pipe.send(_answer(call, args))


def _answer(call: Callable[..., Any], args: tuple[Any, ...]) -> tuple[bool, Any]:
    from etchbook.wiring.errors import sentence

    try:
        return True, call(*args)
    except FileNotFoundError as error:  # what it was to work on was cleared away: whoever asked lays it out again
        return False, error
    except Exception as error:
        told, code = sentence(error)
        return False, (RefusedError(told) if code == 2 else RuntimeError(told))


class _Worker:
    """One process and the pipe to it."""

    def __init__(self, patience: int) -> None:
        spawn = multiprocessing.get_context("spawn")
        self.pipe, theirs = spawn.Pipe()
        self.process: BaseProcess = spawn.Process(target=_work, args=(theirs, patience), daemon=True)
        self.process.start()
        theirs.close()

    def ask(self, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        try:
            self.pipe.send((call, args))
            well, told = self.pipe.recv()
        except (EOFError, OSError):
            raise EndedError("this could not be worked out: the process that did it ended; try it again") from None
        if not well:
            raise told
        return told

    def end(self) -> None:
        self.pipe.close()
        self.process.terminate()
        self.process.join(5)


class Lane:
    """A few processes, begun when wanted, each with one thing at a time.

    Parameters
    ----------
    most : how many processes
    patience : by how much they step back behind others [nice]
    """

    def __init__(self, most: int = MOST, *, patience: int = 0) -> None:
        self.most = most
        self._patience = patience
        self._idle: list[_Worker] = []
        self._turns = threading.BoundedSemaphore(most)
        self._lock = threading.Lock()

    def ask(self, call: Callable[..., Any], *args: Any) -> Any:
        """Have a function of a module carried out apart; what it gave, or the sentence in which it refused."""
        with self._turns:
            worker = self._taken()
            try:
                answer = worker.ask(call, args)
            except EndedError:
                worker.end()
                raise
            except BaseException:
                self._given_back(worker)
                raise
            self._given_back(worker)
            return answer

    def ready(self, call: Callable[..., Any], *args: Any) -> None:
        """Have every process of the lane carry this out, without waiting: what it loads is then at hand."""
        # All of them are asked at once, so that none is given the work of two.
        for _ in range(self.most):
            threading.Thread(target=self._tried, args=(call, args), daemon=True).start()

    def _tried(self, call: Callable[..., Any], args: tuple[Any, ...]) -> None:
        with contextlib.suppress(RefusedError, RuntimeError, OSError):
            self.ask(call, *args)

    def close(self) -> None:
        """End the processes; the next question begins new ones."""
        with self._lock:
            idle, self._idle = self._idle, []
        for worker in idle:
            worker.end()

    def _taken(self) -> _Worker:
        with self._lock:
            # The one that was used last still has what it loaded in its hands.
            if self._idle:
                return self._idle.pop()
        return _Worker(self._patience)

    def _given_back(self, worker: _Worker) -> None:
        with self._lock:
            self._idle.append(worker)


QUICK = Lane()
"""What a person waits for with a finger on the screen."""

SLOW = Lane(patience=5)
"""What takes seconds: opening, drawing, reading again, heat flow."""
