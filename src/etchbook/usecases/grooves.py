"""The preparation of a joint as a person states it."""

import re
from collections.abc import Callable
from typing import Literal

from etchbook.joint import Bevelled, Groove
from etchbook.terms import Family
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.settings import Amount, Convert

SIZES: dict[str, tuple[Literal["mm", "°"], str, float]] = {
    "gap": ("mm", "the root gap", 100.0),
    "angle": ("°", "the groove angle", 170.0),
    "root_face": ("mm", "the root face", 500.0),
}
"""Unit, words and largest believable value of each size."""
SIDES: tuple[Bevelled, ...] = ("both", "1", "2")
ONLY_BUTT = "gap, groove angle and root face are the preparation of a butt joint; leave them out for a {}"


def groove_from(
    gap: str | None, angle: str | None, root_face: str | None, bevelled: str | None, convert: Convert
) -> Groove | None:
    """The preparation that was typed; None where nothing was.

    Parameters
    ----------
    gap, root_face : a length, perhaps ± its standard uncertainty
    angle : groove angle [°], the same way
    bevelled : both, 1 or 2
    convert : turns what was typed into mm and °
    """
    typed = {"gap": gap, "angle": angle, "root_face": root_face}
    if not any(typed.values()):
        if bevelled:
            raise RefusedError("which member is bevelled says nothing without the groove angle: give it as well")
        return None
    sizes = {name: _size(name, text, convert) for name, text in typed.items() if text}
    return checked(
        Groove(
            **{name: one.value for name, one in sizes.items()},
            **{f"u_{name}": one.u for name, one in sizes.items()},
            bevelled=_side(bevelled),
        )
    )


def bare(convert: Convert) -> Convert:
    """The same for a place where a bare number is in the unit that is wanted, as on the command line of `read`."""

    def told(text: str, unit: str, what: str) -> Amount:
        return convert(f"{text.strip()} {unit}" if re.search(r"[\d.]\s*$", text) else text, unit, what)

    return told


def checked(groove: Groove) -> Groove:
    """The preparation, refused where it makes no sense."""
    for name, (unit, words, most) in SIZES.items():
        value = getattr(groove, name)
        if value is not None and not 0 <= value <= most:
            raise RefusedError(f"{words} must be between 0 and {most:g} {unit}, not {value:g}")
    if not groove.angle and groove.bevelled != "both":
        raise RefusedError("which member is bevelled says nothing without the groove angle: give it as well")
    if groove.angle == 0 and groove.root_face:
        raise RefusedError("square edges (a groove angle of 0) have no root face: leave one of the two out")
    return groove


def fitting(groove: Groove | None, family: Family) -> Groove | None:
    """The preparation for a joint that has one; refused for another joint."""
    if groove is not None and family != "butt":
        raise RefusedError(ONLY_BUTT.format("bead on plate" if family == "bead" else f"{family} joint"))
    return groove


def assumed(groove: Groove | None) -> tuple[str, ...]:
    """What is taken for the uncertainty of sizes that were stated without one, in words."""
    if groove is None:
        return ()
    taken = [
        f"{groove.u(name):g} {unit} for {words}"
        for name, (unit, words, _) in SIZES.items()
        if getattr(groove, name) is not None and getattr(groove, f"u_{name}") is None
    ]
    if not taken:
        return ()
    told = ", ".join(taken).replace(" °", "°")
    return (f"the preparation was stated without its standard uncertainty; {told} is taken (common practice)",)


def spoken_groove(groove: Groove) -> str:
    """The preparation in words, as a drawing names it."""
    told = []
    if groove.angle is not None:
        one = "" if groove.bevelled == "both" else f", all of it on plate {groove.bevelled}"
        told.append("square edges" if groove.angle == 0 else f"groove angle {groove.angle:g}°{one}")
    if groove.root_face is not None:
        told.append(f"root face {groove.root_face:g} mm")
    if groove.gap is not None:
        told.append(f"root gap {groove.gap:g} mm")
    return ", ".join(told)


def _size(name: str, text: str, convert: Callable[[str, str, str], Amount]) -> Amount:
    unit, words, _ = SIZES[name]
    return convert(text, unit, words)


def _side(text: str | None) -> Bevelled:
    if not text:
        return "both"
    if text not in SIDES:
        raise RefusedError(f'"{text}" is none of the bevelled sides: say both, 1 or 2')
    return text
