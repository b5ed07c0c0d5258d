"""Phones are let in with a code that the shop's PC shows, listed there, and sent away again."""

from typing import Annotated, Any, NoReturn

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.usecases import RefusedError
from etchbook.web.again import SEND_AGAIN, shows
from etchbook.web.bench import get_bench, page
from etchbook.web.lan import Lan
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import ForeignFormError, word
from etchbook.web.safety.gate import DEVICE
from etchbook.web.safety.pairing import TooOftenError, WrongCodeError
from etchbook.wiring.devices import LASTS, Device
from etchbook.wiring.squares import square_svg

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
KINDS = (("iPhone", "iPhone"), ("iPad", "iPad"), ("Android", "Android phone"), ("Mobile", "Phone"))


def at_home(request: Request) -> None:
    """Refuse what does not come from the shop's PC itself."""
    if not request.state.at_home:
        raise ForeignFormError("devices are let in and sent away on the shop's PC itself")


Home = Annotated[None, Depends(at_home)]


def network(request: Request) -> Lan:
    """How the bench stands in the network; refused where it does not."""
    lan = get_bench(request).lan
    if lan is None:
        raise RefusedError(
            "the bench answers this machine alone: `etchbook serve --lan` starts it so that phones can come in"
        )
    return lan


@router.get("/devices")
def devices(request: Request, _: Home) -> HTMLResponse:
    """The code that lets a phone in, and the devices that were."""
    bench = get_bench(request)
    return page(request, "devices.html", lan=bench.lan, devices=bench.devices.every(), days=LASTS.days)


@router.get("/devices/code.svg")
def code(request: Request, _: Home) -> Response:
    """The code to scan."""
    link = network(request).link()
    if not link:
        raise RefusedError("no code is good now: ask for a new one")
    return Response(square_svg(link), media_type="image/svg+xml", headers={"cache-control": "no-store"})


@router.post("/devices/code")
def renew(request: Request, _: Home, __: Form) -> RedirectResponse:
    """Another code."""
    network(request).pairing.renew()
    return RedirectResponse("/devices", status_code=303)


@router.post("/devices/{name}/away")
def send_away(request: Request, name: str, _: Home, __: Form) -> RedirectResponse:
    """Take a device's session away."""
    get_bench(request).devices.send_away(name)
    return RedirectResponse("/devices", status_code=303)


@router.get("/pair", response_model=None)
def pair(request: Request, code: Annotated[str, Query(max_length=20)] = "") -> HTMLResponse:
    """The page on which a phone is let in."""
    return page(request, "pair.html", code=code, called=_kind(request), refused="", device=request.state.device)


def _pair_again(request: Request, form: FormData, _: dict[str, Any]) -> HTMLResponse:
    return page(request, "pair.html", code=word(form, "code")[:20], called=word(form, "name")[:80], refused=SEND_AGAIN,
                device=None)  # fmt: skip


@router.post("/pair", response_model=None)
@shows(_pair_again)
def let_in(request: Request, form: Form) -> Response:
    """Let a device in, or say in one sentence why not."""
    typed, name = word(form, "code")[:20], word(form, "name")[:80]
    try:
        _, secret = admitted(request, typed, name)
    except (WrongCodeError, TooOftenError) as error:
        return page(request, "pair.html", status=status_of(error), code=typed, called=name, refused=str(error),
                    device=None)  # fmt: skip
    answer = RedirectResponse("/", status_code=303)
    set_session(answer, secret)
    return answer


def admitted(request: Request, typed: str, name: str) -> tuple[Device, str]:
    """A new device for a code that is good, and the secret of its session."""
    lan = network(request)
    if request.state.at_home:
        _stays_home()
    address = request.client.host if request.client else ""
    lan.pairing.spend(typed, address)
    made = get_bench(request).devices.let_in(name, address)
    lan.told(f"{made[0].name} was let in from {address}")
    return made


def _stays_home() -> NoReturn:
    raise RefusedError("this is the shop's PC itself, it needs no code: scan or type it on the phone")


def status_of(error: Exception) -> int:
    """403 for a wrong code, 429 for too many of them."""
    return 429 if isinstance(error, TooOftenError) else 403


def set_session(answer: Response, secret: str) -> None:
    """Give a device its session to keep."""
    answer.set_cookie(DEVICE, secret, max_age=int(LASTS.total_seconds()), httponly=True, samesite="strict")


def _kind(request: Request) -> str:
    says = request.headers.get("user-agent", "")
    return next((words for mark, words in KINDS if mark in says), "")
