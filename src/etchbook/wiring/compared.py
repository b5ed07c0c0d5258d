"""Two groups of kept readings, joined with what was logged of their beads; and the pages of their comparison."""

import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from etchbook.procedure import Settings
from etchbook.procedure.heat_flow import Coupon
from etchbook.quantity import Absent
from etchbook.terms.settings import NUMBERS
from etchbook.usecases import RefusedError, reckoning
from etchbook.usecases.comparing import BeadReadings, Comparison
from etchbook.usecases.keeping.settings import setting_name, setting_of
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import ReportPress

OWN_NUMBERS = ("order", "gap", "minutes_since_last")
"""Numbers that are no setting of a bead but stand beside it: place in the order, gap [mm], time between beads [min]."""
FOR_HEAT = ("joint", "material", "process")


def settings_file(path: str) -> dict[str, Any]:
    """What was logged: lists ``[[a]]`` and ``[[b]]`` with one table a bead, ``under_test``, ``[margin]``."""
    try:
        held = tomllib.loads(FilesDesk().text(path))
    except tomllib.TOMLDecodeError as error:
        raise RefusedError(f"{path} is not TOML: {error}") from None
    known = ("a", "b", "under_test", "margin")
    for name in held:
        if name not in known:
            raise RefusedError(f'{path} knows no "{name}": use {", ".join(known)}')
    return held


def beads_from(words: Sequence[str], logged: Sequence[Mapping[str, Any]], name: str) -> tuple[BeadReadings, ...]:
    """Beads of one group.

    Parameters
    ----------
    words : one a bead: ``READING.json``, or several sections of the bead as ``ONE.json+TWO.json``
    logged : what was logged of each bead in the same order; none where nothing was
    name : of the group
    """
    if logged and len(logged) != len(words):
        raise RefusedError(
            f"group {name} has {len(words)} beads but settings for {len(logged)}: write one table a bead"
        )
    tables = logged or [{}] * len(words)
    return tuple(_bead(word, table) for word, table in zip(words, tables, strict=True))


def _bead(word: str, table: Mapping[str, Any]) -> BeadReadings:
    paths = [part.strip() for part in word.split("+") if part.strip()]
    desk, press = FilesDesk(), ReportPress()
    sections = tuple((press.reading(desk.text(path)),) for path in paths)
    if not sections:
        raise RefusedError("a bead needs the name of a reading")
    settings = _settings(table)
    order = settings.get("order")
    code = sections[0][0].preparation.specimen or Path(paths[0]).name.removesuffix(".json").removesuffix(".reading")
    place = int(order) if isinstance(order, float) else None
    return BeadReadings(code=code, sections=sections, settings=settings, order=place)


def _settings(table: Mapping[str, Any]) -> dict[str, float | str]:
    """Settings by id: numbers in the unit of their term, or words."""
    from etchbook.wiring.units import amount

    told: dict[str, float | str] = {}
    for word, value in table.items():
        if word in OWN_NUMBERS or word in FOR_HEAT:
            told[word] = _plain(word, value)
            continue
        name = setting_name(word)
        if isinstance(value, int | float) and not isinstance(value, bool) and name in NUMBERS:
            told[name] = float(value)  # a bare number of a file is in the unit of the term
            continue
        setting = setting_of(word, str(value), "set", amount)
        told[name] = setting.text if setting.value is None else setting.value
    return told


def _plain(word: str, value: Any) -> float | str:
    if word in FOR_HEAT and isinstance(value, str):
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise RefusedError(f"{word} is a number, not {value!r}")
    return float(value)


def coupon_of(bead: BeadReadings) -> Coupon | Absent:
    """Plate and heat of a bead, or what is missing for reckoning its heat flow."""
    from etchbook.procedure.records import numbered
    from etchbook.wiring.welding import settings_from

    if not bead.settings:
        return Absent(reason="no settings were given")
    used = {name: value for name, value in bead.settings.items() if name in (*numbered(), "process", "material")}
    try:
        made: Settings = settings_from({"joint": bead.sections[0][0].joint.family, "process": "135"} | used)
        return reckoning.coupon_of(made)
    except RefusedError as error:
        return Absent(reason=str(error))


def compare_pages(made: Comparison, dimension: str) -> dict[str, bytes]:
    """Drawings of a comparison by file name; those that cannot be drawn are left out."""
    from etchbook.report import compareplots

    drawn = {
        "strips.svg": compareplots.strips(made),
        "outlines.svg": compareplots.outlines(made),
        "order.svg": compareplots.in_order(made, dimension),
        "start-temperature.svg": compareplots.against(made, dimension, "start_temperature", "start temperature, °C"),
    }
    return {name: svg.encode() for name, svg in drawn.items() if svg}


def logged_numbers(path: str) -> tuple[list[dict[str, float]], list[dict[str, float]]]:
    """The numbers that were logged of usual and of odd beads, out of a settings file."""
    held = settings_file(path)
    groups = [[_settings(table) for table in held.get(side, [])] for side in ("a", "b")]
    if not all(groups):
        raise RefusedError(f"{path} needs [[a]] for usual beads and [[b]] for odd ones")
    usual, odd = (
        [{name: value for name, value in bead.items() if isinstance(value, float)} for bead in group]
        for group in groups
    )
    return usual, odd
