"""What a bead's settings mean: the sheet of figures, the same beside a section, and the heat flow in the coupon."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.procedure import (
    Figure,
    ProcedureError,
    ProcedureFigures,
    SectionComparison,
    Settings,
    compare_with_section,
    procedure_figures,
)
from etchbook.procedure.deriving import Derived
from etchbook.procedure.figures import conduction_inputs, known_figures
from etchbook.procedure.formulas import Known, Traced, figure, gathered
from etchbook.procedure.heat_flow import (
    Change,
    Coupon,
    History,
    Isotherm,
    bead_series,
    history,
    plan_isotherms,
    section_isotherms,
    stick_out_change,
    usual_changes,
)
from etchbook.procedure.heat_flow.estimates import coupon_for
from etchbook.procedure.heat_flow.lumped import bead_warming, cooling_constant
from etchbook.quantity import Absent, Quantity
from etchbook.terms import Family
from etchbook.trials.records import Bead, Setting, Trial
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.reckoning_words import carbon_dioxide, material_named, process_named

HEAT_FIGURES = ("fused_width", "fused_depth", "fused_area", "conducted_haz_width", "conducted_t85", "bead_warming")
LEVELS = (1500.0, 1200.0, 800.0, 500.0, 300.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class HeatAnswer:
    """Heat flow of one bead in its coupon.

    Parameters
    ----------
    coupon : what was reckoned with
    figures : fused width, depth, area, HAZ width, t8/5 and warming, with u
    changes : what the usual forgotten changes would do
    plan, section : isotherms on the surface, and of the peak in the section
    histories : temperature over time at the wished points
    starts : start temperature of each bead of a series on the same coupon [°C], or why there are none
    """

    coupon: Coupon
    figures: tuple[Figure, ...]
    changes: tuple[Change, ...]
    plan: tuple[Isotherm, ...]
    section: tuple[Isotherm, ...]
    histories: tuple[History, ...]
    starts: tuple[float, ...] | Absent


def weld(settings: Settings, *, conduction: bool = True) -> ProcedureFigures:
    """Everything that a bead's settings come to; what cannot be reckoned is absent with its reason."""
    return procedure_figures(settings, conduction=conduction)


def beside_section(settings: Settings, dimensions: Mapping[str, Quantity], family: Family) -> SectionComparison:
    """What the settings predict beside what was measured in the section."""
    return compare_with_section(settings, dimensions, family)


def heat(
    settings: Settings, *, points: Sequence[tuple[float, float]] = (), beads: int = 1, cycle: float | None = None
) -> HeatAnswer:
    """Heat flow of a bead in its coupon, by conduction.

    Parameters
    ----------
    settings : of the bead; what is missing is refused with its name
    points : across and depth [mm] of points whose temperature over time is wanted
    beads, cycle : how many beads on the coupon, and the time from one start to the next [s]
    """
    sheet = known_figures(settings)
    coupon = coupon_of(settings, sheet)
    levels = tuple(sorted({coupon.melting, *LEVELS[1:]} | ({coupon.haz_edge} if coupon.haz_edge > 0 else set())))
    made = {name: figure(name, sheet[name]) for name in HEAT_FIGURES}
    for across, depth in points:
        if not (0 <= depth <= coupon.thickness and abs(across) <= coupon.width / 2):
            raise RefusedError(f"the point {across:g}, {depth:g} mm does not lie in the plate")
    return HeatAnswer(
        coupon=coupon,
        figures=tuple(made[name] for name in HEAT_FIGURES),
        changes=_changes(settings, coupon),
        plan=plan_isotherms(coupon, levels),
        section=section_isotherms(coupon, levels),
        histories=tuple(history(coupon, *point) for point in points),
        starts=_starts(settings, coupon, beads, cycle),
    )


def coupon_of(settings: Settings, sheet: Mapping[str, Known] | None = None) -> Coupon:
    """The coupon and its source as the settings say, or a refusal that names what is missing."""
    at = Derived(settings)
    known = known_figures(settings, conduction=False) if sheet is None else sheet
    inputs = conduction_inputs(at, known)
    lacking = [one.reason for one in inputs.values() if isinstance(one, Absent)]
    if lacking:
        raise RefusedError(f"heat flow cannot be reckoned: {gathered('; '.join(lacking))}")
    numbers = {name: one.value for name, one in inputs.items() if isinstance(one, Traced)}
    try:
        return coupon_for(**numbers)
    except ProcedureError as error:
        raise RefusedError(str(error)) from None


def _changes(settings: Settings, coupon: Coupon) -> tuple[Change, ...]:
    found = list(usual_changes(coupon).values())
    feed, wire, out = settings.wire_feed, settings.wire_diameter, settings.stick_out
    if feed is not None and wire is not None and out is not None and not Derived(settings).solid_steel_wire:
        found.append(stick_out_change(coupon, feed=feed, wire=wire, stick_out=out, by=5.0))
    return tuple(found)


def _starts(settings: Settings, coupon: Coupon, beads: int, cycle: float | None) -> tuple[float, ...] | Absent:
    if beads < 2:
        return Absent(reason="only one bead was asked for")
    if not 2 <= beads <= 50:
        raise RefusedError(f"a series may have 2 to 50 beads, not {beads}")
    wanted = {"ambient temperature": settings.ambient, "surface heat loss": settings.loss, "time between beads": cycle}
    lacking = [name for name, value in wanted.items() if value is None]
    if lacking:
        return Absent(reason=f"{' and '.join(lacking)} {'is' if len(lacking) == 1 else 'are'} not stated")
    assert settings.ambient is not None and cycle is not None
    size = {"plate_length": coupon.length, "plate_width": coupon.width, "thickness": coupon.thickness}
    # A tee's coupon takes its whole heat, not only the share that drives the bead-on-plate model.
    whole = coupon.power / {"tee": 2 / 3}.get(settings.joint or "", 1.0)
    rise = bead_warming(whole / coupon.travel / 1000, coupon.bead_length, coupon.capacity, **size)
    constant = cooling_constant(coupon.capacity, loss=coupon.loss, **size)
    return bead_series(beads, rise, coupon.start, settings.ambient, cycle, constant)


def settings_of_bead(
    bead: Bead, trial: Trial | None = None, composition: Mapping[str, float] | None = None
) -> Settings:
    """A bead's settings out of the book, for the sheet of figures.

    Parameters
    ----------
    bead : with its settings; what was read off an instrument counts before what was set, that before what was seen
    trial : gives joint, material and gas where the bead has none
    composition : of the plate, from its certificate [% by mass]

    Returns
    -------
    Settings
        Nothing that was not logged is in it. Words are understood only where they are plain, such as "18 % CO2".
    """
    best = _best(bead.settings)
    texts = {name: one.text for name, one in best.items() if one.text}
    joint = trial.joint if trial is not None else None
    numbers = {name: one.value for name, one in best.items() if one.value is not None and name in Settings.__slots__}
    spread = {name: one.u for name, one in best.items() if one.u is not None and name in Settings.__slots__}
    if joint is not None:
        drawn = {"thickness_1": joint.thickness_1, "thickness_2": joint.thickness_2, "throat": joint.throat}
        numbers = {name: value for name, value in drawn.items() if value is not None} | numbers
    gas = texts.get("gas") or (trial.gas if trial is not None else "")
    co2 = carbon_dioxide(gas)
    if co2 is not None:
        numbers["co2"] = co2
    return Settings(
        process=process_named(texts.get("process", "")),
        material=material_named(trial.material if trial is not None else ""),
        joint=joint.family if joint is not None else None,
        composition=dict(composition or {}),
        u=spread,
        **numbers,
    )


def _best(settings: Sequence[Setting]) -> dict[str, Setting]:
    rank = {"seen": 0, "set": 1, "read": 2}
    return {one.name: one for one in sorted(settings, key=lambda one: rank[one.origin])}
