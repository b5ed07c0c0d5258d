"""What the settings say the section should hold, beside what was measured in it, and which setting does not fit."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from etchbook.procedure.figures import known_figures
from etchbook.procedure.formulas import Known, Traced, measured
from etchbook.procedure.records import Beside, Pointer, SectionComparison, Settings
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.terms import DIMENSIONS, Family

HOLD = 2.0
"""Standard uncertainties of the difference beyond which two figures are said to differ."""

BEAD_TO_BEAD = 0.27
"""Planning value for the scatter of convexity and leg between hand-welded beads [mm] (judged, .25 to .30)."""

AREA = "deposited_area"
HEAT = ("dilution", "haz_width", "penetration_1")
FORM = ("leg", "convexity", "weld_width", "excess_weld_metal")


def compare_with_section(
    settings: Settings, dimensions: Mapping[str, Quantity], family: Family | None = None
) -> SectionComparison:
    """Hold what a bead's settings predict beside what was measured in its section.

    Parameters
    ----------
    settings : of the bead; `settings.joint` counts unless `family` is given
    dimensions : of the section, by id, as in `Reading.dimensions`
    family : the section's joint

    Returns
    -------
    SectionComparison
        Each row agrees, differs (by more than two standard uncertainties of the difference) or cannot be said;
        pointers name the settings that would explain what differs.
    """
    here = settings if family is None else replace(settings, joint=family)
    sheet = known_figures(here)
    rows = tuple(_beside(*row) for row in _rows(here, sheet, dimensions))
    by_name = {row.id: row for row in rows}
    return SectionComparison(
        rows=rows, pointers=tuple(_pointers(by_name, here, sheet, dimensions)), summary=_summary(by_name, here)
    )


def _rows(
    settings: Settings, sheet: Mapping[str, Known], read: Mapping[str, Quantity]
) -> Iterable[tuple[str, str, Quantity, Quantity]]:
    yield AREA, "deposited area", measured(sheet[AREA], "mm²"), _read(read, AREA)
    if settings.joint in ("tee", "lap"):
        leg = _loose(sheet["fillet_leg"])
        yield "leg", "leg of a flat fillet", measured(leg, "mm"), _mean(read, "leg_1", "leg_2")
        flat: Quantity = Measured(value=0.0, u=BEAD_TO_BEAD, unit="mm")
        yield "convexity", "convexity (a flat face has none)", flat, _read(read, "convexity")
    if settings.joint == "bead":
        yield "weld_width", "fused width", measured(sheet["fused_width"], "mm"), _read(read, "weld_width")
        yield "penetration_1", "fused depth", measured(sheet["fused_depth"], "mm"), _read(read, "penetration_1")
        yield "excess_weld_metal", "height", measured(sheet["bead_height"], "mm"), _read(read, "excess_weld_metal")
    yield "dilution", "dilution", measured(sheet["dilution"], ""), _read(read, "dilution")
    yield "haz_width", "HAZ width", measured(sheet["conducted_haz_width"], "mm"), _haz(read)


def _loose(known: Known) -> Known:
    """A prediction of form with the scatter from bead to bead added."""
    if isinstance(known, Absent):
        return known
    return Traced(value=known.value, parts=dict(known.parts) | {"bead to bead": BEAD_TO_BEAD}, notes=known.notes)


def _read(read: Mapping[str, Quantity], name: str) -> Quantity:
    if name in read:
        return read[name]
    label = DIMENSIONS[name].label if name in DIMENSIONS else name
    return Absent(reason=f"{label} was not read")


def _mean(read: Mapping[str, Quantity], first: str, second: str) -> Quantity:
    """Mean of two dimensions of one section; their errors may go together, so u is not made smaller."""
    one, two = _read(read, first), _read(read, second)
    if isinstance(one, Measured) and isinstance(two, Measured):
        return Measured(value=(one.value + two.value) / 2, u=(one.u + two.u) / 2, unit=one.unit)
    return one if isinstance(one, Absent) else two


def _haz(read: Mapping[str, Quantity]) -> Quantity:
    """The HAZ width of both members, or of the one that shows it."""
    both = [_read(read, name) for name in ("haz_width_1", "haz_width_2")]
    seen = [one for one in both if isinstance(one, Measured)]
    return _mean(read, "haz_width_1", "haz_width_2") if len(seen) == 2 else seen[0] if seen else both[0]


def _beside(name: str, label: str, predicted: Quantity, found: Quantity) -> Beside:
    if isinstance(predicted, Measured) and isinstance(found, Measured):
        spread = (predicted.u**2 + found.u**2) ** 0.5
        gap = Measured(value=found.value - predicted.value, u=spread, unit=predicted.unit)
        verdict = "differs" if abs(gap.value) > HOLD * spread else "agree"
        return Beside(id=name, label=label, predicted=predicted, measured=found, difference=gap, verdict=verdict)
    why = predicted if isinstance(predicted, Absent) else found
    return Beside(id=name, label=label, predicted=predicted, measured=found, difference=why, verdict="cannot say")


def _pointers(
    rows: Mapping[str, Beside], settings: Settings, sheet: Mapping[str, Known], read: Mapping[str, Quantity]
) -> Iterable[Pointer]:
    area = rows[AREA]
    if area.verdict == "differs":
        yield from _by_amount(area, settings, sheet)
    elif area.verdict == "agree":
        yield from _by_heat(rows, settings)
        yield from _by_form(rows)
    yield from _by_aim(read)


def _by_amount(area: Beside, settings: Settings, sheet: Mapping[str, Known]) -> Iterable[Pointer]:
    assert isinstance(area.predicted, Measured) and isinstance(area.measured, Measured)
    ratio = area.measured.value / area.predicted.value
    more = (
        f"the section holds {abs(100 * (ratio - 1)):.0f} % {'more' if ratio > 1 else 'less'} than feed and travel bring"
    )
    if settings.wire_feed is not None:
        yield Pointer(setting="wire_feed", reason=f"{more}: a feed of {settings.wire_feed * ratio:.3g} m/min would fit")
    travel = sheet["travel_speed"]
    if isinstance(travel, Traced) and ratio > 0:
        fit = travel.value / ratio
        yield Pointer(
            setting="travel",
            reason=f"{more}: a travel of {fit:.3g} mm/s ({fit * 6:.3g} cm/min) at the section would fit",
        )
    if ratio < 1 and settings.joint in ("tee", "lap", "butt", "corner"):
        yield Pointer(
            setting="fit-up", reason="metal may have gone into a gap, which the area of the section leaves out"
        )


def _by_heat(rows: Mapping[str, Beside], settings: Settings) -> Iterable[Pointer]:
    off = [rows[name] for name in HEAT if name in rows and rows[name].verdict == "differs"]
    if not off:
        return
    hotter = sum(1 if one.difference.value > 0 else -1 for one in off if isinstance(one.difference, Measured)) > 0
    which = " and ".join(one.label for one in off)
    said = f"the amount of metal is right, but {which} {'are' if len(off) > 1 else 'is'} "
    said += (
        "larger than the heat of these settings gives" if hotter else "smaller than the heat of these settings gives"
    )
    power = "amps and volts at the arc were higher" if hotter else "amps and volts at the arc were lower"
    yield Pointer(setting="amps", reason=f"{said}: {power}; at the same feed that is a {_stick(hotter)} stick-out")
    yield Pointer(
        setting="start_temperature", reason=f"{said}: the plate was {'warmer' if hotter else 'colder'} than logged"
    )


def _stick(hotter: bool) -> str:
    return "shorter" if hotter else "longer"


def _by_form(rows: Mapping[str, Beside]) -> Iterable[Pointer]:
    off = [rows[name] for name in FORM if name in rows and rows[name].verdict == "differs"]
    if not off:
        return
    narrow = any(
        isinstance(one.difference, Measured)
        and (one.difference.value > 0) == (one.id in ("convexity", "excess_weld_metal"))
        for one in off
    )
    form = "taller and narrower" if narrow else "flatter and wider"
    said = f"the amount of metal is right, but the bead is {form} than expected"
    volts = (
        "fewer volts at the arc (drops in the leads, the clamp, the stick-out)" if narrow else "more volts at the arc"
    )
    yield Pointer(setting="volts", reason=f"{said}: {volts} would do that")
    surface = "mill scale, oil or a cold plate would do that" if narrow else "a cleaner or warmer plate would do that"
    yield Pointer(setting="surface", reason=f"{said}: {surface}")


def _by_aim(read: Mapping[str, Quantity]) -> Iterable[Pointer]:
    one, two = read.get("leg_1"), read.get("leg_2")
    if not (isinstance(one, Measured) and isinstance(two, Measured)):
        return
    gap, spread = one.value - two.value, (one.u**2 + two.u**2 + BEAD_TO_BEAD**2) ** 0.5
    if abs(gap) > HOLD * spread:
        longer = "1" if gap > 0 else "2"
        yield Pointer(
            setting="aim", reason=f"leg {longer} is {abs(gap):.1f} mm longer: the gun was aimed at member {longer}"
        )


def _summary(rows: Mapping[str, Beside], settings: Settings) -> str:
    area = rows[AREA]
    off = [row.label for row in rows.values() if row.verdict == "differs"]
    seen = [row for row in rows.values() if row.verdict != "cannot say"]
    if not seen:
        return "nothing could be held against the section: see the reasons in each row"
    if area.verdict == "cannot say":
        start = "the amount of metal could not be compared, so amount and shape cannot be told apart"
    elif area.verdict == "differs":
        start = "the amount of metal does not fit: look at feed or travel first"
    elif off:
        start = "the amount of metal fits but the shape does not: look at heat, volts and surface"
    else:
        start = "the section shows nothing that the settings would not"
    bare = [word for word in ("travel", "wire_feed") if getattr(settings, word) is not None and word not in settings.u]
    tail = f"; {' and '.join(bare).replace('_', ' ')} {'are' if len(bare) > 1 else 'is'} taken as exact" if bare else ""
    return start + tail
