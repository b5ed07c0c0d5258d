"""The code with which a phone is let in: good once, for a short while, and not to be found by trying."""

import hmac
import secrets
import time
from collections import deque
from collections.abc import Callable
from threading import Lock

from etchbook.usecases import RefusedError

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
"""None that is taken for another: no I, O, 0 and 1."""
LENGTH = 8
GOOD_S = 600.0
WINDOW_S = 300.0
MOST_WRONG = 5
"""Wrong codes from one address within the window."""
MOST_WRONG_ALL = 40
"""The same from all addresses together."""


class WrongCodeError(RefusedError):
    """The code lets nobody in."""


class TooOftenError(RefusedError):
    """Too many wrong codes came."""


class Pairing:
    """The one code that is good now.

    Parameters
    ----------
    clock : seconds that only grow
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lock = Lock()
        self._wrong: deque[tuple[float, str]] = deque()
        self._gone: deque[str] = deque(maxlen=20)
        self._code, self._until = "", 0.0
        self._used = False
        self.renew()

    def renew(self) -> str:
        """Another code; the one before is good no more."""
        with self._lock:
            if self._code:
                self._gone.append(self._code)
            self._code = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
            self._until, self._used = self._clock() + GOOD_S, False
            return self._code

    @property
    def code(self) -> str:
        """The code as it is shown: two groups; "" when it was used or is too old."""
        with self._lock:
            good = not self._used and self._clock() < self._until
            return f"{self._code[:4]}-{self._code[4:]}" if good else ""

    @property
    def minutes(self) -> int:
        """How many minutes it is still good."""
        return max(0, round((self._until - self._clock()) / 60))

    def spend(self, typed: str, address: str) -> None:
        """Use the code up, or refuse what was typed in one sentence."""
        given = "".join(letter for letter in typed.upper() if letter.isalnum())
        with self._lock:
            self._forget_old()
            if self._too_often(address):
                minutes = round(WINDOW_S / 60)
                raise TooOftenError(f"too many wrong codes came from here: wait {minutes} minutes, then try again")
            same = hmac.compare_digest(given.encode(), self._code.encode())
            if same and not self._used and self._clock() < self._until:
                self._used = True
                return
            self._wrong.append((self._clock(), address))
            if same or any(hmac.compare_digest(given.encode(), old.encode()) for old in self._gone):
                raise WrongCodeError("that code was used or is too old: take the one that the shop's PC shows now")
            raise WrongCodeError("that is not the code on the shop's PC: look at it again and type all eight letters")

    def _forget_old(self) -> None:
        while self._wrong and self._wrong[0][0] < self._clock() - WINDOW_S:
            self._wrong.popleft()

    def _too_often(self, address: str) -> bool:
        here = sum(one == address for _, one in self._wrong)
        return here >= MOST_WRONG or len(self._wrong) >= MOST_WRONG_ALL
