"""What a person says of the pictures that are followed: how the face was prepared and lit for each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from string import ascii_uppercase

import numpy as np

from etchbook.usecases.errors import RefusedError
from etchbook.usecases.scales import number, positive

FORM = "A=finish:1200,etched:no,light:45"
POINTS_FORM = "B=xa,ya,xb,yb,..."
YES, NO = ("yes", "y", "true", "1", "etched"), ("no", "n", "false", "0", "unetched")
POLISHED = ("polished", "mirror", "ops", "oxide")
MOST_PICTURES = 12


@dataclass(frozen=True, kw_only=True, slots=True)
class PictureState:
    """How the face was when a picture was taken; what was not said is None or "".

    Parameters
    ----------
    finish : grit or polish: 240, 1200, 3um, polished
    etched : whether the etch was on
    light : where the light comes from in the picture [°], 0 from the right, 90 from above
    px_per_mm : scale of the picture
    """

    finish: str = ""
    etched: bool | None = None
    light: float | None = None
    px_per_mm: float | None = None

    def words(self) -> str:
        """``1200, not etched, light from 45°``"""
        told = [f"finish {self.finish}"] if self.finish else []
        told += [] if self.etched is None else ["etched" if self.etched else "not etched"]
        told += [] if self.light is None else [f"light from {self.light:g}°"]
        return ", ".join(told) or "state not given"

    @property
    def fine(self) -> bool:
        """Whether the finish is a polish of 3 µm or finer."""
        text = self.finish.lower().replace("µ", "u").replace("μ", "u").replace(" ", "")
        if text.endswith("um"):
            grain = text.removesuffix("um").replace(".", "", 1)
            return grain.isdecimal() and float(text.removesuffix("um")) <= 3
        return text in POLISHED


@dataclass(frozen=True, kw_only=True, slots=True)
class FollowWish:
    """What is asked.

    Parameters
    ----------
    photos : paths; they are called A, B, C ... in this order
    states : of each
    joint : family, "" where it is to be proposed
    lines : lines that the person points at, each (n, 2) px of picture A
    points : places that a person matched, by picture: x, y in A and x, y there [px]
    """

    photos: tuple[str, ...]
    states: tuple[PictureState, ...]
    joint: str = ""
    lines: tuple[tuple[tuple[float, float], ...], ...] = field(default_factory=tuple)
    points: Mapping[str, tuple[tuple[float, float, float, float], ...]] = field(default_factory=dict)


def follow_wish(
    photos: Sequence[str],
    *,
    states: Sequence[str],
    scales: Sequence[str],
    joint: str,
    lines: Sequence[str],
    points: Sequence[str] = (),
) -> FollowWish:
    """What the words of the command ask for.

    Parameters
    ----------
    states : ``A=finish:1200,etched:no,light:45``
    scales : ``A=41.2`` [px/mm]
    lines : ``x1,y1,x2,y2,...`` [px of picture A]
    points : ``B=xa,ya,xb,yb,xa,ya,xb,yb,...`` [px of A and of B]
    """
    if not 2 <= len(photos) <= MOST_PICTURES:
        raise RefusedError(f"two to {MOST_PICTURES} pictures of one face can be followed, not {len(photos)}")
    names = ascii_uppercase[: len(photos)]
    told: dict[str, dict[str, str]] = {name: {} for name in names}
    for text in states:
        name, parts = _named(text, names, FORM)
        told[name] |= _parts(parts, text)
    for text in scales:
        name, value = _named(text, names, "A=41.2")
        told[name]["scale"] = value
    return FollowWish(
        photos=tuple(photos), states=tuple(_state(name, told[name]) for name in names), joint=joint.strip().lower(),
        lines=tuple(_line(text) for text in lines), points=dict(_matched(text, names) for text in points),
    )  # fmt: skip


def _matched(text: str, names: str) -> tuple[str, tuple[tuple[float, float, float, float], ...]]:
    """Which picture some matched points are about, and the points."""
    name, rest = _named(text, names, POINTS_FORM)
    if name == "A":
        raise RefusedError("points are matched between picture A and another one: name that one, as in " + POINTS_FORM)
    # A file may hold a pair a line, with a heading or remarks: those lines begin with no number.
    rows = [row for row in rest.splitlines() if row.strip() and (row.strip()[0].isdigit() or row.strip()[0] in "-+.")]
    words = " ".join(rows).replace(",", " ").replace(";", " ").split()
    values = [number(word, f"a coordinate of the points of picture {name}") for word in words]
    if len(values) < 12 or len(values) % 4:
        raise RefusedError(
            f"the points of picture {name} are four numbers each (x, y in A, then x, y in {name}), three points or "
            f"more; got {len(values)} numbers"
        )
    return name, tuple(
        (values[k], values[k + 1], values[k + 2], values[k + 3]) for k in range(0, len(values), 4)
    )  # fmt: skip


def _named(text: str, names: str, form: str) -> tuple[str, str]:
    name, sign, rest = text.partition("=")
    name = name.strip().upper()
    if not sign or not rest.strip() or len(name) != 1 or name not in names:
        said = f"{names[0]} to {names[-1]}"
        raise RefusedError(f'"{text}" does not say which picture it is about: write {form}; the pictures are {said}')
    return name, rest.strip()


def _parts(parts: str, text: str) -> dict[str, str]:
    found = {}
    for part in parts.split(","):
        key, sign, value = part.partition(":")
        key, value = key.strip().lower(), value.strip()
        if not sign or not value or key not in ("finish", "etched", "light"):
            raise RefusedError(f'"{part.strip()}" in "{text}" is no state: use finish, etched and light, as in {FORM}')
        found[key] = value
    return found


def _state(name: str, told: dict[str, str]) -> PictureState:
    etched = told.get("etched", "").lower()
    if etched and etched not in YES + NO:
        raise RefusedError(f'etched of picture {name} is yes or no, not "{etched}"')
    light = number(told["light"], f"the light of picture {name} [°]") if "light" in told else None
    return PictureState(
        finish=told.get("finish", ""), etched=etched in YES if etched else None, light=light,
        px_per_mm=positive(told["scale"], f"the scale of picture {name}") if "scale" in told else None,
    )  # fmt: skip


def _line(text: str) -> tuple[tuple[float, float], ...]:
    values = [number(part, "a coordinate of --line") for part in text.split(",")]
    if len(values) < 4 or len(values) % 2:
        raise RefusedError(f'"{text}" is no line: write x1,y1,x2,y2 (and more points) in pixels of picture A')
    points = np.array(values).reshape(-1, 2)
    if float(np.hypot(*np.diff(points, axis=0).T).sum()) == 0:
        raise RefusedError(f'"{text}" is no line: its points are one and the same')
    return tuple((float(x), float(y)) for x, y in points)


def apart(one: PictureState, two: PictureState) -> float | None:
    """Angle between the light of two pictures [°], 0 to 180; None where either is not known."""
    if one.light is None or two.light is None:
        return None
    return abs((one.light - two.light + 180) % 360 - 180)
