"""What the gas can and cannot do: six questions, each a form and its answer."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup, escape

from etchbook.usecases import RefusedError, gassing
from etchbook.usecases.gassing import GasAnswer
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.web.aside import aside
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import page
from etchbook.wiring import ask_gas

router = APIRouter(include_in_schema=False)
Values = Mapping[str, Any]

SECOND = Field(name="second", label="Second gas in the argon", kind="choice", usual="co2", needed=False,
               options=(("co2", "CO2"), ("o2", "oxygen"), ("he", "helium")), told=("second gas",))  # fmt: skip
SHARE = Field(name="share", label="Its share", unit="%", like="18 %", hint="By volume; the rest is argon.",
              told=("share of", "a share", "pure CO2", "layers need two gases", "percent"))  # fmt: skip
MIXTURE = (SECOND, SHARE)
FLOW = Field(name="flow", label="Flow while the arc burns", unit="L/min", usual="15 L/min", told=("flow",))
GAUGE = Field(name="gauge", label="Cylinder gauge shows", unit="bar", like="150 bar or 2200 psi", told=("gauge",))
AT = Field(name="at", label="Temperature of the cylinder", unit="°C", like="8 °C or 46 °F", told=("temperature",))
FILLED = Field(name="filled", label="Gauge when it was full", unit="bar", usual="200 bar", told=("filling pressure",))


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """One question about gas.

    Parameters
    ----------
    title, lead : as the welder asks it, and what the answer rests on
    fields : what it asks for
    verb : answers it
    cylinder : whether somebody will handle a cylinder over it
    """

    title: str
    lead: str
    fields: tuple[Field, ...]
    verb: Callable[[Values], GasAnswer]
    cylinder: bool = True


def _mixture(said: Values) -> dict[str, float]:
    return {said["second"] or "co2": said["share"]}


def _rest(said: Values) -> dict[str, Any]:
    return {name: value for name, value in said.items() if name not in ("second", "share")}


def _heard(said: Values) -> GasAnswer:
    tones = (said["known"], said["suspect"])
    if (tones[0] is None) != (tones[1] is None):
        raise RefusedError("Give both tones, of the known and of the suspect gas, or neither")
    return ask_gas.sound(at=said["at"], tube=said["tube"], tones=None if tones[0] is None else tones, u=said["u"],
                         **_mixture(said))  # fmt: skip


def _of(verb: Callable[..., GasAnswer]) -> Callable[[Values], GasAnswer]:
    """A verb of `ask_gas`, whose arguments are called like the fields of its form."""
    return lambda said: verb(**_rest(said), **_mixture(said))


def _parted(said: Values) -> GasAnswer:
    return aside(ask_gas.split, **_rest(said), **_mixture(said))


QUESTIONS: Mapping[str, Question] = {
    "split": Question(
        title="Can it come apart?",
        lead="By gravity, or by cold; and what would then be drawn off.",
        fields=(*MIXTURE, Field(name="coldest", label="Coldest it has been", unit="°C", like="-15 °C or 5 °F"), FILLED,
                Field(name="filled_at", label="Temperature when it was filled", unit="°C", usual="15 °C",
                      told=("filling temperature",))),
        verb=_parted,
    ),
    "mixing": Question(
        title="Would rolling it help?",
        lead="How long layers from filling last, upright and lying, and what rolling can and cannot do.",
        fields=(*MIXTURE, FILLED, Field(name="at", label="Temperature of the store", unit="°C", usual="20 °C",
                                   told=("temperature",)),
                Field(name="days", label="Days since filling", kind="numbers", usual="7; 14; 30; 60; 120")),
        verb=_of(ask_gas.mixing),
    ),
    "contents": Question(
        title="How much is left?",
        lead="For how many hours, and what the gauge would show warmer or colder.",
        fields=(*MIXTURE, Field(name="litres", label="Water capacity", unit="L", like="50 L",
                           hint="Stamped on the cylinder's shoulder.", told=("litres", "capacity")),
                GAUGE, AT, FLOW, Field(name="gauge_u", label="How well the gauge is known", unit="bar", needed=False,
                                       hint="Standard uncertainty; left empty, that of a class 2.5 gauge.")),
        verb=_of(ask_gas.contents),
    ),
    "flow": Question(
        title="What does the flow reading mean?",
        lead="What the flow tube shows, what leaves the nozzle, and whether it stays smooth.",
        fields=(*MIXTURE, Field(name="read", label="The tube shows", kind="number", like="15", told=("flow reading",)),
                Field(name="unit", label="In", kind="choice", usual="L/min", told=("unit",),
                      options=(("L/min", "litres a minute (L/min)"), ("cfh", "cubic feet an hour (cfh)"))),
                Field(name="tube", label="Its scale is made for", kind="choice", usual="same",
                      options=(("same", "this same gas"), ("argon", "argon"), ("co2", "CO2"), ("air", "air"))),
                Field(name="nozzle", label="Bore of the nozzle", unit="mm", usual="16 mm", told=("nozzle", "bore")),
                Field(name="wind", label="Wind at the arc", unit="m/s", needed=False, like="2 m/s or 4 mph",
                      told=("wind",))),
        verb=_of(ask_gas.flow),
        cylinder=False,
    ),
    "regulator": Question(
        title="Can the regulator frost up?",
        lead="And make the flow hunt.",
        fields=(*MIXTURE, GAUGE, AT, FLOW),
        verb=_of(ask_gas.regulator),
    ),
    "sound": Question(
        title="Is this the gas it says?",
        lead="Two gases told apart by the tone of a tube: how to do it, and what two tones say.",
        fields=(SECOND, replace(SHARE, label="Its share in the known gas"),
                Field(name="at", label="Temperature of the tube", unit="°C", usual="20 °C", told=("temperature",)),
                Field(name="tube", label="Length of the tube, closed at one end", unit="mm", usual="250 mm",
                      told=("tube",)),
                Field(name="known", label="Tone with the known gas", unit="Hz", needed=False, like="298.6 Hz"),
                Field(name="suspect", label="Tone with the suspect gas", unit="Hz", needed=False, like="299.2 Hz",
                      told=("both tones",)),
                Field(name="u", label="How well a tone is read", unit="Hz", usual="0.3 Hz",
                      hint="Standard uncertainty.")),
        verb=_heard,
        cylinder=False,
    ),
}  # fmt: skip


@router.get("/gas")
def questions(request: Request) -> HTMLResponse:
    """The six questions."""
    return page(request, "gas.html", questions=QUESTIONS)


@router.get("/gas/{name}")
def question(request: Request, name: str) -> HTMLResponse:
    """One question: its form, and its answer where it was asked."""
    if name not in QUESTIONS:
        raise NotThereError("there is no such question about gas")
    one = QUESTIONS[name]
    form, answer = answered(one, dict(request.query_params))
    return page(request, "gas_question.html", status=form.status, here=name, question=one, form=form, answer=answer,
                questions=QUESTIONS, safety=gassing.cylinder_safety(), linked=linked)  # fmt: skip


def answered(one: Question, given: Mapping[str, str]) -> tuple[Asked, GasAnswer | None]:
    """A question's form as it was sent, with its answer."""
    form = asked(one.fields, given)
    return form, form.ask(lambda: one.verb(form.values))


def linked(text: str) -> Markup:
    """Words with the names of commands turned into links to the same question here."""
    return Markup(
        re.sub(r"`etchbook gas (\w+)`", lambda found: _link(found[1]), str(escape(text)))
    )  # fmt: skip


def _link(name: str) -> str:
    return f'<a href="/gas/{name}">{escape(QUESTIONS[name].title)}</a>' if name in QUESTIONS else name
