"""Forms are ours only when they carry the token that belongs to the browser's session."""

import hashlib
import hmac
import secrets
from collections.abc import AsyncIterator

from fastapi import Request
from starlette.datastructures import FormData, UploadFile

from etchbook.usecases import RefusedError

COOKIE = "etchbook"


LOAD_AGAIN = "this page was open in another session: load it again and send the form once more"


class ForeignFormError(RefusedError):
    """A form that did not come from a page of this session; `form` is what it held, to be shown and never acted on."""

    def __init__(self, text: str, form: FormData | None = None) -> None:
        super().__init__(text)
        self.form = form


def token_for(key: bytes, session: str) -> str:
    """The token that forms of this session carry.

    Parameters
    ----------
    key : the bench's own secret
    session : what the session's cookie holds
    """
    return hmac.new(key, session.encode(), hashlib.sha256).hexdigest()


def new_session() -> str:
    """A session's name that nobody can guess."""
    return secrets.token_urlsafe(24)


async def form_of(request: Request) -> AsyncIterator[FormData]:
    """The form of a request, refused where it does not carry this session's token; its files are let go afterwards."""
    async with request.form(max_files=12, max_fields=200) as form:
        given, wanted = form.get("token"), request.state.token
        if not isinstance(given, str) or not hmac.compare_digest(given.encode(), wanted.encode()):
            raise ForeignFormError(LOAD_AGAIN, form)
        yield form


def word(form: FormData, name: str) -> str:
    """One field of a form as a person typed it, "" where it was left empty."""
    value = form.get(name, "")
    return "" if isinstance(value, UploadFile) else value.strip()
