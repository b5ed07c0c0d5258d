"""The gate that every request passes: host, origin, device, size, and the headers of every answer."""

from collections.abc import Iterable

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from etchbook.web.safety.forms import COOKIE, new_session, token_for
from etchbook.wiring.devices import Device, Devices

MOST_BYTES = 130_000_000
MOST_OF_STRANGERS = 20_000
"""Bytes that a device may send before it was let in."""
DEVICE = "etchbook_device"
FOR_STRANGERS = ("/pair", "/api/pair")
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


class TooLargeError(HTTPException):
    """More bytes came than a request may have; told by the app's own way of telling what a request got wrong."""

    def __init__(self, most: int) -> None:
        super().__init__(413, _too_large(most))


class Gate:
    """Middleware that lets in only requests for our own host, from our own pages and from devices that were let in.

    Parameters
    ----------
    hosts : names under which the bench may be called on its own machine, without port; a page elsewhere that points
        its own name at this machine is turned away by them
    key : the bench's secret, from which each session's form token is made
    devices : those that were let in
    lan : address under which other machines call the bench, "" where none may
    """

    def __init__(self, app: ASGIApp, *, hosts: Iterable[str], key: bytes, devices: Devices, lan: str = "") -> None:
        self.app = app
        self.hosts = frozenset(hosts)
        self.key = key
        self.devices = devices
        self.lan = lan

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http":
            await self._answered(scope, receive, send)
        # The bench speaks nothing else, so nothing else is answered.

    async def _answered(self, scope: Scope, receive: Receive, send: Send) -> None:
        headers, request = Headers(scope=scope), Request(scope)
        home = self._at_home(scope)
        device = None if home else await self._device(request)
        most = MOST_BYTES if home or device else MOST_OF_STRANGERS
        refused = self._refusal(scope["method"], headers, home, most)
        if refused:
            await PlainTextResponse(refused[1], status_code=refused[0], headers=HEADERS)(scope, receive, send)
            return
        if not home and device is None and not _open_to_strangers(scope["path"]):
            await _stranger(scope)(scope, receive, _sealed(send, ""))
            return
        session = request.cookies.get(COOKIE, "")
        fresh = "" if session else new_session()
        state = scope.setdefault("state", {})
        state.update(token=token_for(self.key, session or fresh), at_home=home, device=device)
        await self.app(scope, _counted(receive, most), _sealed(send, fresh))

    def _at_home(self, scope: Scope) -> bool:
        """Whether a request came through the loopback; the one on the network is a socket of its own."""
        return not self.lan or (scope.get("server") or ("",))[0] in ("127.0.0.1", "::1")

    async def _device(self, request: Request) -> Device | None:
        address = request.client.host if request.client else ""
        return await run_in_threadpool(self.devices.of, request.cookies.get(DEVICE, ""), address)

    def _refusal(self, method: str, headers: Headers, home: bool, most: int) -> tuple[int, str] | None:
        host = headers.get("host", "")
        if _name(host) not in (self.hosts if home else (self.lan,)):
            return 421, "This bench does not go by that name."
        if method not in SAFE and _foreign(host, headers):
            return 403, "That form came from another page than ours."
        size = headers.get("content-length", "0")
        if not size.isdecimal() or int(size) > most:
            return 413, _too_large(most)
        return None


def _counted(receive: Receive, most: int) -> Receive:
    """Count what comes: a request may leave out its size, or lie about it."""
    seen = 0

    async def counted() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > most:
            raise TooLargeError(most)
        return message

    return counted


def _too_large(most: int) -> str:
    return f"That is more than {_amount(most)}, the most that is taken in at once."


def _amount(size: int) -> str:
    return f"{size // 1_000_000} MB" if size >= 1_000_000 else f"{size // 1000} kB"


def _open_to_strangers(path: str) -> bool:
    return path in FOR_STRANGERS or path.startswith("/static/")


def _stranger(scope: Scope) -> Response:
    """What a device hears that was not let in: a page leads to where it can be."""
    if scope["path"].startswith("/api/") or scope["method"] not in SAFE:
        told = "this device is not let in (any more): open the bench's page /pair on it and type the code"
        return JSONResponse({"error": told}, status_code=401)
    return RedirectResponse("/pair", status_code=303)


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
