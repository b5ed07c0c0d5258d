"""A form that was refused comes back as it was typed, with the sentence beside the field that it is about."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import wraps
from typing import Any, TypeVar

from fastapi import Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData, QueryParams, UploadFile

from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import ChangedMeanwhileError, NotThereError
from etchbook.web.safety.forms import ForeignFormError, word
from etchbook.wiring.errors import sentence
from etchbook.wiring.units import amount

Made = TypeVar("Made")
Endpoint = TypeVar("Endpoint", bound=Callable[..., Any])
STATUS: tuple[tuple[type[Exception], int], ...] = (
    (ForeignFormError, 403),
    (NotThereError, 404),
    (ChangedMeanwhileError, 409),
    (RefusedError, 422),
)


Draw = Callable[[Request, FormData, dict[str, Any]], Response]
DRAW = "draw_again"
"""Under this name an endpoint holds the way in which its form is shown again."""
SEND_AGAIN = "this page was open in another session, so nothing was done: look it over and send it once more"


class FieldError(RefusedError):
    """A refusal that is about one field of a form."""

    def __init__(self, field: str, text: str) -> None:
        super().__init__(text)
        self.field = field


@dataclass(frozen=True, kw_only=True, slots=True)
class Trouble:
    """Why a form was refused; `field` is the name of the field, "" where it is about the whole."""

    sentence: str
    field: str = ""


def status_of(error: BaseException) -> int:
    """The status that tells a browser what kind of refusal it is; 500 where the fault is ours."""
    known = next((number for kind, number in STATUS if isinstance(error, kind)), 0)
    return known or (422 if sentence(error)[1] == 2 else 500)


@contextmanager
def beside(field: str) -> Iterator[None]:
    """What is refused within is told beside that field."""
    try:
        yield
    except ValueError as error:
        if isinstance(error, FieldError) or sentence(error)[1] != 2:
            raise
        raise FieldError(field, str(error)) from error


def measured(form: FormData, name: str, unit: str, what: str) -> float | None:
    """An amount of a form in that unit; None where the field was left empty.

    Parameters
    ----------
    what : what it is, for the sentence that refuses it
    """
    typed = word(form, name)
    with beside(name):
        return amount(typed, unit, what).value if typed else None


def stays_on(drawn: Callable[..., Response]) -> Callable[[Endpoint], Endpoint]:
    """A form whose refusal draws its own page again, with what was typed.

    Parameters
    ----------
    drawn : the page that the form stands on, taking the same parts of the address
    """

    def around(endpoint: Endpoint) -> Endpoint:
        @wraps(endpoint)
        def tried(request: Request, **given: Any) -> Any:
            try:
                return endpoint(request=request, **given)
            except Exception as error:
                if status_of(error) == 500:
                    raise
                form = next(one for one in given.values() if isinstance(one, FormData))
                _note(request, sentence(error)[0], form, getattr(error, "field", ""))
                answer = drawn(request, **{name: one for name, one in given.items() if one is not form})
                answer.status_code = status_of(error)
                return answer

        return shows(lambda request, _, parts: drawn(request, **parts))(tried)  # type: ignore[return-value]

    return around


def shows(draw: Draw) -> Callable[[Endpoint], Endpoint]:
    """A form that is shown again as it was typed where it came from a page of another session.

    Parameters
    ----------
    draw : the page that the form stands on, from the request, what was typed, and the parts of the address
    """

    def around(endpoint: Endpoint) -> Endpoint:
        setattr(endpoint, DRAW, draw)
        return endpoint

    return around


def shown_again(request: Request, error: ForeignFormError) -> Response | None:
    """The page of a form that came from a page of another session, with what was typed and this session's token.

    Nothing is done with the form. None where there is nothing to be shown again, so that it is refused in a sentence.
    """
    draw: Draw | None = getattr(request.scope.get("endpoint"), DRAW, None)
    if draw is None or error.form is None:
        return None
    _note(request, SEND_AGAIN, error.form)
    request.state.as_seen = request.state.said
    try:
        answer = draw(request, error.form, request.path_params)
    except Exception as wrong:
        if status_of(wrong) == 500:
            raise
        answer = None
    if answer is None or isinstance(answer, RedirectResponse):
        del request.state.trouble, request.state.as_seen
        return None
    answer.status_code = status_of(error)
    return answer


def tried(request: Request, make: Callable[[], Made]) -> Made | None:
    """What `make` gives, or None with the refusal told on the page; the address holds what was typed."""
    try:
        return make()
    except Exception as error:
        if status_of(error) == 500:
            raise
        _note(request, sentence(error)[0], request.query_params, getattr(error, "field", ""))
        return None


def _note(request: Request, told: str, typed: FormData | QueryParams, field: str = "") -> None:
    request.state.trouble = Trouble(sentence=told[:1].upper() + told[1:], field=field)
    request.state.said = {name: value for name, value in typed.multi_items() if not isinstance(value, UploadFile)}
