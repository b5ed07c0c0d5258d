"""Sums that take a while are done in a process apart, so that nobody's drag waits for somebody else's heat flow."""

from collections.abc import Callable
from functools import partial
from threading import BoundedSemaphore
from typing import TypeVar

from etchbook.usecases import RefusedError
from etchbook.wiring.apart import SLOW

Made = TypeVar("Made")
MOST_WAITING = 12
"""So many may be reckoned or wait for their turn at once: each holds one of the threads that answer everybody."""
_places = BoundedSemaphore(MOST_WAITING)


class BusyError(RefusedError):
    """Too many sums wait already."""


def aside(call: Callable[..., Made], *given: object, **named: object) -> Made:
    """What a function of a module gives, carried out in a process apart.

    Parameters
    ----------
    call : it and what it is given travel to the other process, and what it gives travels back
    """
    if not _places.acquire(blocking=False):
        raise BusyError(f"{MOST_WAITING} sums are being reckoned for others already: ask again in a moment")
    try:
        made: Made = SLOW.ask(partial(call, *given, **named))
        return made
    finally:
        _places.release()
