"""How a person says where the scale is to come from."""

import math
import re
from dataclasses import dataclass

from etchbook.usecases.errors import RefusedError

INCH = 25.4


@dataclass(frozen=True, kw_only=True, slots=True)
class GivenScale:
    """Pixels per millimetre as a number, with its standard uncertainty where it is known."""

    px_per_mm: float
    u: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ThicknessScale:
    """A member whose thickness [mm] is known, with its standard uncertainty where it is known."""

    member: int
    mm: float
    u_mm: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class RuleScale:
    """A rule in the picture; `pitch_mm` is the distance of neighbouring graduations, None to be found.

    `asked` is False where nobody asked for it and the rule is merely tried.
    """

    pitch_mm: float | None = None
    asked: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class BarScale:
    """A scale bar in the picture and its length [mm]."""

    length_mm: float


@dataclass(frozen=True, kw_only=True, slots=True)
class PointsScale:
    """Two points [px] and their distance [mm]."""

    first: tuple[float, float]
    second: tuple[float, float]
    length_mm: float


ScaleWish = GivenScale | ThicknessScale | RuleScale | BarScale | PointsScale

FORMS = 'thickness_1=8, rule, rule=1mm, rule=1/64in, bar=0.1 or "points=x1,y1,x2,y2,length"'


def scale_wish(given: str | None, u: str | None, source: str | None) -> ScaleWish:
    """What the options ``--scale``, ``--scale-u`` and ``--scale-from`` ask for.

    Parameters
    ----------
    given : pixels per millimetre [px/mm], as typed
    u : its standard uncertainty [px/mm], as typed
    source : one of the forms in FORMS

    Returns
    -------
    ScaleWish
        Without any of them a rule in the picture is tried; a scale is never assumed.
    """
    if given is not None and source is not None:
        raise RefusedError("the scale was asked for twice: use --scale or --scale-from, not both")
    if u is not None and given is None:
        raise RefusedError("--scale-u belongs to --scale, which was not given")
    if given is not None:
        spread = None if u is None else number(u, "the scale's uncertainty", least=0.0)
        return GivenScale(px_per_mm=positive(given, "the scale"), u=spread)
    return RuleScale(asked=False) if source is None else _from(source.strip())


def _from(source: str) -> ScaleWish:
    word, _, rest = source.partition("=")
    word, rest = word.strip(), rest.strip()
    if word == "rule":
        return RuleScale(pitch_mm=_pitch(rest) if rest else None)
    if word == "bar" and rest:
        return BarScale(length_mm=positive(rest.removesuffix("mm"), "the length of the scale bar"))
    if word in ("thickness_1", "thickness_2") and rest:
        return _thickness(int(word[-1]), rest)
    if word == "points" and rest:
        return _points(rest)
    raise RefusedError(f'"{source}" is not a place to take a scale from: use {FORMS}')


def _thickness(member: int, rest: str) -> ThicknessScale:
    value, _, spread = rest.replace("+-", "±").partition("±")
    what = f"the thickness of member {member}"
    u = number(spread, f"the uncertainty of {what}", least=0.0) if spread else None
    return ThicknessScale(member=member, mm=positive(value.removesuffix("mm"), what), u_mm=u)


def _pitch(rest: str) -> float:
    match = re.fullmatch(r"(?:(\d+)\s*/\s*(\d+)|([0-9.eE+-]+))\s*(mm|in)?", rest)
    if match is None:
        raise RefusedError(f'"{rest}" is not the distance of two graduations: write 1mm, 0.5mm or 1/64in')
    over, under, plain, unit = match.groups()
    value = positive(over, "the pitch") / positive(under, "the pitch") if over else positive(plain, "the pitch")
    # A bare fraction can only be an inch rule: no metric rule is divided that way.
    return value * INCH if unit == "in" or (over and unit is None) else value


def _points(rest: str) -> PointsScale:
    parts = [number(part, "a coordinate of the two points") for part in rest.split(",") if part.strip()]
    if len(parts) != 5:
        raise RefusedError("two points and a length are five numbers: points=x1,y1,x2,y2,length")
    x1, y1, x2, y2, length = parts
    if math.hypot(x2 - x1, y2 - y1) == 0:
        raise RefusedError("the two points of the scale are one and the same")
    if length <= 0:
        raise RefusedError("the length between the two points must be more than 0 mm")
    return PointsScale(first=(x1, y1), second=(x2, y2), length_mm=length)


def number(text: str, what: str, *, least: float = -math.inf) -> float:
    """A finite number out of text, or a refusal that says what was wrong."""
    try:
        value = float(text)
    except ValueError:
        raise RefusedError(f'{what} must be a number, not "{text}"') from None
    if not math.isfinite(value):
        raise RefusedError(f"{what} must be a finite number, not {text}")
    if value < least:
        raise RefusedError(f"{what} must be at least {least:g}, not {text}")
    return value


def positive(text: str, what: str) -> float:
    """A finite number above zero out of text, or a refusal that says what was wrong."""
    value = number(text, what)
    if value <= 0:
        raise RefusedError(f"{what} must be more than 0, not {text}")
    return value
