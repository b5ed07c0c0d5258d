"""A program on another machine is let in as a phone is."""

from fastapi import Request
from fastapi.responses import JSONResponse

from etchbook.web.api.shapes import PairGiven
from etchbook.web.api.told import DeviceTold, Trouble
from etchbook.web.api.verbs import verbs
from etchbook.web.pages.devices import admitted, set_session, status_of
from etchbook.web.safety.pairing import TooOftenError, WrongCodeError

router = verbs("devices")


@router.post("/pair", status_code=201, response_model=DeviceTold, responses={429: {"model": Trouble}})
def pair_device(request: Request, given: PairGiven) -> JSONResponse:
    """Let this device in with the code that the shop's PC shows; the session comes as a cookie, to be kept."""
    try:
        device, secret = admitted(request, given.code, given.name)
    except (WrongCodeError, TooOftenError) as error:
        return JSONResponse({"error": str(error)}, status_code=status_of(error))
    answer = JSONResponse({"name": device.name, "begun": device.begun}, status_code=201)
    set_session(answer, secret)
    return answer
