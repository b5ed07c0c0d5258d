"""The gate that every request passes: host, origin, size, and the headers of every answer."""

from collections.abc import Iterable

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from etchbook.web.safety.forms import COOKIE, new_session, token_for

MOST_BYTES = 130_000_000
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
    "font-src 'self'; frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=()",
}
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


class TooLargeError(Exception):
    """More bytes came than a request may have."""


class Gate:
    """Middleware that lets in only requests for our own host and from our own pages.

    Parameters
    ----------
    hosts : names under which the bench may be called, without port; a page elsewhere that points its own name
        at this machine is turned away by them
    key : the bench's secret, from which each session's form token is made
    """

    def __init__(self, app: ASGIApp, *, hosts: Iterable[str], key: bytes) -> None:
        self.app = app
        self.hosts = frozenset(hosts)
        self.key = key

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._refusal(scope["method"], headers)
        if refused:
            await PlainTextResponse(refused[1], status_code=refused[0], headers=HEADERS)(scope, receive, send)
            return
        session = Request(scope).cookies.get(COOKIE, "")
        fresh = "" if session else new_session()
        scope.setdefault("state", {})["token"] = token_for(self.key, session or fresh)
        await self._capped(scope, receive, _sealed(send, fresh))

    def _refusal(self, method: str, headers: Headers) -> tuple[int, str] | None:
        host = headers.get("host", "")
        if _name(host) not in self.hosts:
            return 421, "This bench does not go by that name."
        if method not in SAFE and _foreign(host, headers):
            return 403, "That form came from another page than ours."
        size = headers.get("content-length", "0")
        if not size.isdecimal() or int(size) > MOST_BYTES:
            return 413, f"That is more than {MOST_BYTES // 1_000_000} MB, the most that is taken in at once."
        return None

    async def _capped(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Count what comes: a request may leave out its size, or lie about it."""
        seen = 0

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > MOST_BYTES:
                raise TooLargeError
            return message

        try:
            await self.app(scope, counted, send)
        except TooLargeError:
            await PlainTextResponse("That is too large to be taken in at once.", status_code=413)(scope, receive, send)


def _foreign(host: str, headers: Headers) -> bool:
    """Whether a browser says that another page than ours sends this."""
    site, origin = headers.get("sec-fetch-site", "none"), headers.get("origin")
    if site not in ("none", "same-origin"):
        return True
    if origin == "null":  # so it says of our own forms too, since our pages send no referrer
        return site != "same-origin"
    return origin is not None and origin.partition("://")[2] != host


def _name(host: str) -> str:
    if host.startswith("["):
        return host.partition("]")[0] + "]"
    return host.partition(":")[0].lower()


def _sealed(send: Send, fresh: str) -> Send:
    """Put our headers on every answer; a page that sets its own policy keeps it."""

    async def sealed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            if fresh:
                headers.append("set-cookie", f"{COOKIE}={fresh}; Path=/; HttpOnly; SameSite=Strict")
        await send(message)

    return sealed
