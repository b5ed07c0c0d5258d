"""The register of formulas: what each says of itself, and how uncertainty is carried through it."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from inspect import getdoc
from typing import Any, Literal, TypeVar

from etchbook.procedure.records import Figure, ProcedureError
from etchbook.quantity import Absent, Measured, Quantity

Status = Literal["seen", "from memory", "reckoned", "common practice"]
Made = TypeVar("Made", bound=Callable[..., float])


@dataclass(frozen=True, kw_only=True, slots=True)
class Range:
    """The values of one input that a formula was made for."""

    name: str
    least: float
    most: float
    unit: str

    def words(self, value: float) -> str:
        """ "" when the value is inside, else one sentence."""
        if self.least <= value <= self.most:
            return ""
        edge = f"{self.least:g} to {self.most:g}" if math.isfinite(self.most) else f"{self.least:g} and more"
        tail = f" {self.unit}".rstrip()
        return f"out of range: {self.name.replace('_', ' ')} is {value:.4g}{tail}, the formula is for {edge}{tail}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Formula:
    """A formula with where it stands.

    Parameters
    ----------
    id, label, unit : machine name, words and unit of the answer
    function : plain numbers in, plain number out
    source, status : standard with edition and clause, and how it is known
    valid : ranges of its inputs
    share, scatter : standard uncertainty of the formula itself, as a share of the answer and in its unit
    group : the heading it stands under
    """

    id: str
    label: str
    unit: str
    function: Callable[..., float]
    source: str
    status: Status
    valid: tuple[Range, ...]
    share: float
    scatter: float
    group: str


FORMULAS: dict[str, Formula] = {}


def published(
    label: str,
    unit: str,
    source: str,
    status: Status,
    *,
    valid: tuple[Range, ...] = (),
    share: float = 0.0,
    scatter: float = 0.0,
) -> Callable[[Made], Made]:
    """Enter a function in the register; the function itself stays as it is."""

    def enter(function: Made) -> Made:
        FORMULAS[function.__name__] = Formula(
            id=function.__name__,
            label=label,
            unit=unit,
            function=function,
            source=source,
            status=status,
            valid=valid,
            share=share,
            scatter=scatter,
            group=function.__module__.rpartition(".")[2],
        )
        return function

    return enter


@dataclass(frozen=True, kw_only=True, slots=True)
class Traced:
    """A number that remembers where its uncertainty came from.

    Two figures that share an input, such as travel speed, are then not treated as if they were independent.

    Parameters
    ----------
    value : the number
    parts : signed standard uncertainty from each independent cause, by its name, in the unit of the value
    notes : what to know of it
    """

    value: float
    parts: Mapping[str, float] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    @property
    def u(self) -> float:
        """Combined standard uncertainty. Source: JCGM 100:2008 (GUM), 5.2.2."""
        return math.sqrt(sum(part * part for part in self.parts.values()))


Known = Traced | Absent


def said(name: str, value: float | None, u: float = 0.0, *, need: str = "") -> Known:
    """An input of a formula: what was said, or the reason why the formula cannot be reckoned."""
    if value is None:
        return Absent(reason=f"{need or name.replace('_', ' ')} is not stated")
    return Traced(value=value, parts={name: u} if u else {})


def reckon(name: str, **inputs: Known | float) -> Known:
    """A registered formula at these inputs, with the uncertainty of each carried through by slope.

    Parameters
    ----------
    name : id of the formula
    inputs : its arguments; a plain number is exact

    Returns
    -------
    Traced or Absent
        u covers what the inputs carry and the formula's own scatter. Source: JCGM 100:2008 (GUM), 5.1 and 5.2.
    """
    held = FORMULAS[name]
    lacking = [one.reason for one in inputs.values() if isinstance(one, Absent)]
    if lacking:
        return Absent(reason="; ".join(dict.fromkeys("; ".join(lacking).split("; "))))
    known = {key: _number(one) for key, one in inputs.items() if not isinstance(one, Absent)}
    at = {key: one.value for key, one in known.items()}
    value = _value(held, at)
    if isinstance(value, Absent):
        return value
    parts = _carried(held.function, at, known)
    own = math.hypot(held.share * value, held.scatter)
    if own:
        parts[f"formula {name}"] = own
    notes = [note for one in known.values() for note in one.notes]
    beyond = [words for one in held.valid if one.name in at and (words := one.words(at[one.name]))]
    notes += [f"{held.label}: {words}" for words in beyond]
    return Traced(value=value, parts=parts, notes=tuple(dict.fromkeys(notes)))


def _value(held: Formula, at: Mapping[str, float]) -> float | Absent:
    """The formula's number, or why there is none: refused, divided by zero, a root or logarithm of what has none."""
    try:
        value = held.function(**at)
    except ProcedureError as error:
        return Absent(reason=str(error))
    except (ArithmeticError, ValueError):
        value = math.nan
    if isinstance(value, complex) or not math.isfinite(value):
        told = ", ".join(f"{name.replace('_', ' ')} {number:g}" for name, number in at.items())
        return Absent(reason=f"{held.label}: no number comes of {told}")
    return value


def _number(one: Traced | float) -> Traced:
    return one if isinstance(one, Traced) else Traced(value=float(one))


def _carried(function: Callable[..., float], at: dict[str, float], known: Mapping[str, Traced]) -> dict[str, float]:
    parts: dict[str, float] = {}
    for key, one in known.items():
        if not one.u:
            continue
        slope = _slope(function, at, key, one.u)
        for cause, part in one.parts.items():
            parts[cause] = parts.get(cause, 0.0) + slope * part
    return parts


def _slope(function: Callable[..., float], at: dict[str, float], key: str, step: float) -> float:
    """Central difference; one-sided where the other side lies outside the formula."""
    here = at[key]
    found: list[tuple[float, float]] = []
    for there in (here - step, here, here + step):
        try:
            found.append((there, function(**(at | {key: there}))))
        except (ProcedureError, ValueError, ArithmeticError):
            continue
    (x1, y1), (x2, y2) = found[0], found[-1]
    return (y2 - y1) / (x2 - x1) if x2 != x1 else 0.0


def figure(name: str, known: Known, *, label: str = "", notes: tuple[str, ...] = ()) -> Figure:
    """A reckoned number as a figure of the sheet, with the source of its formula."""
    held = FORMULAS[name]
    told = notes + (known.notes if isinstance(known, Traced) else ())
    return Figure(
        id=name,
        label=label or held.label,
        quantity=measured(known, held.unit),
        notes=tuple(dict.fromkeys(told)),
        source=held.source,
        status=held.status,
    )


def measured(known: Known, unit: str) -> Quantity:
    """What a reckoned number is to the rest of the house."""
    if isinstance(known, Absent):
        return Absent(reason=gathered(known.reason))
    return Measured(value=known.value, u=known.u, unit=unit)


RECKONABLE = " stated, and cannot be reckoned because "


def gathered(reason: str) -> str:
    """Several reasons as one sentence: what is not stated is named in one list."""
    tail = " is not stated"
    if "; " not in reason:
        return reason
    # A figure that could itself be reckoned says what that needs: its needs join the list, each named once.
    parts = [part for whole in reason.split("; ") for part in whole.split(RECKONABLE)]
    parts = [part + " stated" if part.endswith((" is not", " are not")) else part for part in parts]
    parts = [part.replace(" are not stated", tail) for part in dict.fromkeys(parts)]
    lacking = [part.removesuffix(tail) for part in parts if part.endswith(tail)]
    others = [part for part in parts if not part.endswith(tail)]
    if len(lacking) > 1:
        others.insert(0, f"{', '.join(lacking[:-1])} and {lacking[-1]} are not stated")
    elif lacking:
        others.insert(0, lacking[0] + tail)
    return "; ".join(others)


def noted(known: Known, *notes: str) -> Known:
    """The same number with more to know of it."""
    return known if isinstance(known, Absent) else replace(known, notes=known.notes + notes)


def inputs_of(held: Formula) -> tuple[str, ...]:
    """Names of a formula's arguments."""
    code: Any = held.function.__code__
    return tuple(code.co_varnames[: code.co_argcount + code.co_kwonlyargcount])


_LINE = re.compile(r"^    ([A-Za-z_][\w, ]*?) : (.+(?:\n        .+)*)", re.M)


def described(held: Formula) -> dict[str, str]:
    """What a formula's docstring says of each of its arguments, unit included."""
    text = getdoc(held.function) or ""
    rows = _LINE.findall("\n".join(f"    {line}" for line in text.splitlines()))
    return {name: " ".join(said.split()) for names, said in rows for name in re.split(r",\s*", names)}


def unit_said(words: str) -> str:
    """The unit in square brackets of such a description; "" where there is none."""
    found = re.search(r"\[([^\]]+)\]", words)
    return found[1] if found else ""
