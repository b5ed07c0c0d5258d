"""A part of the bench that comes up behind the first page, so that the first page need not wait for it."""

from collections.abc import Callable
from threading import Lock, Thread

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send


class Late:
    """Makes an app while others are answered already; who asks for it earlier waits until it is there.

    Parameters
    ----------
    make : gives the app, once
    """

    def __init__(self, make: Callable[[], ASGIApp]) -> None:
        self._make = make
        self._made: ASGIApp | None = None
        self._lock = Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        app = self._made
        if app is None:
            app = await run_in_threadpool(self.get)
        await app(scope, receive, send)

    def begin(self) -> None:
        """Begin to make it."""
        Thread(target=self.get, daemon=True).start()

    def get(self) -> ASGIApp:
        """The app."""
        with self._lock:
            if self._made is None:
                self._made = self._make()
            return self._made
