"""Two groups of kept readings, joined with what was logged of their beads; and the pages of their comparison."""

import tomllib
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from etchbook.evidence import Answer
from etchbook.procedure import Settings
from etchbook.procedure.heat_flow import Coupon
from etchbook.quantity import Absent
from etchbook.section import Reading
from etchbook.terms.settings import NUMBERS
from etchbook.trials.scatter import Scatter
from etchbook.usecases import RefusedError, reckoning
from etchbook.usecases.book_beads import beads_of, own_scatter
from etchbook.usecases.comparing import BeadReadings, Comparison, compare
from etchbook.usecases.keeping.ports import BookStore
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


def groups_from(
    a: Sequence[str], b: Sequence[str], logged: Mapping[str, Any], book: str | None
) -> tuple[list[tuple[BeadReadings, ...]], dict[str, Scatter]]:
    """Both groups, from kept readings or from the book by code, and the book's own scatter where it was opened.

    Parameters
    ----------
    a, b : beads as they were typed
    logged : what `settings_file` gave; beads of the book bring their settings along
    book : folder of the book; None for the one that is meant
    """
    words = [*a, *b]
    files = [_is_file(word) for word in words]
    if all(files):
        return [beads_from(group, logged.get(side, []), side) for side, group in (("a", a), ("b", b))], {}
    if any(files):
        raise RefusedError("beads are all named by their code in the book, or all by files of readings, not by both")
    if logged.get("a") or logged.get("b"):
        raise RefusedError("beads of the book bring their settings along: leave [[a]] and [[b]] out")
    from etchbook.wiring.shelf import meant

    store = meant(book)
    try:
        return groups_in(store, a, b)
    finally:
        store.close()


def groups_in(
    store: BookStore, a: Sequence[str], b: Sequence[str]
) -> tuple[list[tuple[BeadReadings, ...]], dict[str, Scatter]]:
    """Both groups out of an open book, by codes of beads or of single readings, and the book's own scatter."""
    parse = ReportPress().reading
    groups = [beads_of(store, group, parse) for group in (a, b)]
    codes = [[bead.code for bead in group] for group in groups]
    if both := set(codes[0]) & set(codes[1]):
        raise RefusedError(f"{min(both)} stands in both groups: a bead counts once, however often it was cut or read")
    return groups, own_scatter(store, [*codes[0], *codes[1]])


def _is_file(word: str) -> bool:
    return word.lower().endswith(".json")


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
    sections = [press.reading(desk.text(path)) for path in paths]
    if not sections:
        raise RefusedError("a bead needs the name of a reading")
    name = Path(paths[0]).name.removesuffix(".json").removesuffix(".reading")
    return bead_at_hand(sections, table, name)


def bead_at_hand(sections: Sequence[Reading], table: Mapping[str, Any], name: str) -> BeadReadings:
    """A bead from readings at hand, one a section.

    Parameters
    ----------
    sections : one or more
    table : what was logged of it
    name : what it is called where no specimen is named
    """
    settings = _settings(table)
    order = settings.get("order")
    return BeadReadings(
        code=sections[0].preparation.specimen or name,
        sections=tuple((reading,) for reading in sections),
        settings=settings,
        order=int(order) if isinstance(order, float) else None,
    )


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


def coupon_of(bead: BeadReadings) -> tuple[Coupon | Absent, str]:
    """Plate and heat of a bead, or what is missing for reckoning its heat flow; and what was taken as given."""
    from etchbook.procedure.records import numbered
    from etchbook.wiring.welding import settings_from

    if not bead.settings:
        return Absent(reason="no settings were given"), ""
    used = {name: value for name, value in bead.settings.items() if name in (*numbered(), "process", "material")}
    usual: dict[str, Any] = {"joint": bead.sections[0][0].joint.family, "process": "135", "plate_width": 100.0}
    length = used.get("plate_length")
    usual |= {"bead_length": 0.8 * length} if isinstance(length, float) else {}
    names = [name.replace("_", " ") for name in ("plate_width", "bead_length") if name in usual and name not in used]
    taken = f"{' and '.join(names)} taken as usual; they hardly matter at equal start temperature" if names else ""
    try:
        made: Settings = settings_from(usual | used)
        return reckoning.coupon_of(made), taken
    except RefusedError as error:
        return Absent(reason=str(error)), ""


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


def answers_from(usual: Sequence[str], odd: Sequence[str], book: str | None) -> tuple[Answer, ...]:
    """What settings and readings of usual and odd beads say by themselves about the causes."""
    if not usual or not odd:
        raise RefusedError("name at least one usual bead and one odd one")
    groups, own = groups_from(usual, odd, {}, book)
    return compare(groups[0], groups[1], scatter=own).answers


def compare_page(
    made: Comparison, dimension: str, drawings: Mapping[str, bytes], today: date | None = None, *, kind: str = "html"
) -> bytes:
    """The comparison as one page with its drawings, html or pdf."""
    from etchbook.report.compare_page import compare_html
    from etchbook.report.compare_pdf import compare_pdf

    shown = {name: svg.decode() for name, svg in drawings.items()}
    day = today or date.today()
    if kind == "pdf":
        return compare_pdf(made, dimension, shown, today=day)
    return compare_html(made, dimension, shown, today=day).encode()
