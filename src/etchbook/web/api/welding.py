"""The welding arithmetic as JSON: what settings come to, where the heat goes, any one formula."""

from typing import Annotated, Any

from fastapi import Path, Request

from etchbook.procedure import Figure, Settings, hardness_limit
from etchbook.procedure.formulas import Formula
from etchbook.procedure.heat_flow import CONDUCTION
from etchbook.quantity import Absent
from etchbook.usecases import RefusedError, formulary
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.reckoning import HeatAnswer
from etchbook.web.api.quantities import finite, plain, quantity
from etchbook.web.api.verbs import After, Limit, sliced, verbs
from etchbook.web.api.weldshapes import (
    ChangeTold,
    CouponTold,
    FigureTold,
    FormulaAsked,
    FormulasTold,
    FormulaTold,
    HeatAsked,
    HeatTold,
    HistoryTold,
    IsothermTold,
    SettingsTyped,
    WeldAsked,
    WeldTold,
)
from etchbook.web.aside import aside
from etchbook.web.bench import get_book
from etchbook.web.pages.weldfields import LABELS, typed_in_book
from etchbook.wiring import welding
from etchbook.wiring.both import other_system
from etchbook.wiring.units import listed

router = verbs("procedure")
FormulaName = Annotated[str, Path(max_length=60, examples=["arc_energy"])]


@router.post("/weld")
def reckon_settings(request: Request, given: WeldAsked) -> WeldTold:
    """Everything that settings come to: heat input, cooling, deposit, expected shape, steel, gas."""
    found = aside(welding.weld, settings_of(request, given))
    hardness = hardness_limit(given.group, heat_treated=given.treated) if given.group else None
    return WeldTold(figures=[figure_told(one) for one in found.figures.values()], hardness=hardness)


def settings_of(request: Request, given: SettingsTyped) -> Settings:
    """Settings as they were typed, over those of a bead of the book where one is named."""
    said = given.model_dump(include=set(LABELS), exclude_none=True)
    typed = {name: text(value, welding.UNITS.get(name, "")) for name, value in said.items() if value != ""}
    return welding.settings_from(typed_in_book(get_book(request), given.bead) | typed)


def text(value: str | float, unit: str) -> str:
    """What was typed; a number is looked over as if it had been typed with its unit."""
    return value if isinstance(value, str) else f"{value!r} {unit}".strip()


def figure_told(one: Figure) -> FigureTold:
    """A figure for JSON, in both systems of units."""
    other = None if isinstance(one.quantity, Absent) else other_system(one.quantity)
    return FigureTold(id=one.id, label=one.label, inch=None if other is None else quantity(other),
                      notes=list(one.notes), source=one.source, status=one.status, **plain(one.quantity))  # fmt: skip


@router.post("/heat")
def follow_heat(request: Request, given: HeatAsked) -> HeatTold:
    """Where the heat of a bead goes in its coupon, by conduction."""
    points = [(one[0], one[1]) for one in given.points]
    found = aside(welding.heat, settings_of(request, given), points=points, beads=given.beads, cycle=given.every)
    return _heat_told(found)


def _heat_told(found: HeatAnswer) -> HeatTold:
    histories = [HistoryTold(across=one.across, depth=one.depth, peak=one.peak, seconds=one.seconds.tolist(),
                             temperatures=one.temperatures.tolist()) for one in found.histories]  # fmt: skip
    return HeatTold(
        coupon=CouponTold.model_validate(found.coupon, from_attributes=True),
        figures=[figure_told(one) for one in found.figures],
        changes=[ChangeTold(words=one.words, **{name: finite(getattr(one, name)) for name in MOVED})
                 for one in found.changes],
        plan=[_isotherm(one) for one in found.plan],
        section=[_isotherm(one) for one in found.section],
        histories=histories,
        starts=[] if isinstance(found.starts, Absent) else list(found.starts),
        no_starts=found.starts.reason if isinstance(found.starts, Absent) else "",
        model=CONDUCTION,
    )  # fmt: skip


MOVED = ("width", "depth", "area", "t85")


def _isotherm(one: Any) -> IsothermTold:
    return IsothermTold(level=one.level, lines=[line.tolist() for line in one.lines])


@router.get("/formulas")
def list_formulas(limit: Limit = 50, after: After = "") -> FormulasTold:
    """Every formula that takes plain numbers, a page at a time."""
    shown, next_one = sliced(formulary.formulas(), limit, after, lambda one: one.id)
    return FormulasTold(items=[_formula(one) for one in shown], next=next_one)


def _formula(one: Formula) -> FormulaTold:
    return FormulaTold(id=one.id, label=one.label, unit=one.unit, group=one.group, source=one.source,
                       status=one.status, takes=dict(formulary.input_units(one)))  # fmt: skip


@router.get("/formulas/{name}")
def get_formula(name: FormulaName) -> FormulaTold:
    """One formula: what it takes, with units, and where it stands."""
    return _formula(_named(name))


@router.post("/formulas/{name}")
def reckon_formula(name: FormulaName, given: FormulaAsked) -> FigureTold:
    """One formula at these values, each with its standard uncertainty where it is known."""
    held = _named(name)
    units = formulary.input_units(held)
    return figure_told(formulary.reckoned(held, _values(given.values, units)))


def _values(said: dict[str, Any], units: Any) -> dict[str, tuple[float, float]]:
    found = {}
    for name, value in said.items():
        read = listed(text(value, ""), units.get(name, ""), name.replace("_", " "))
        found[name] = (read.value, read.u or 0.0)
    return found


def _named(name: str) -> Formula:
    try:
        return formulary.formula_named(name)
    except RefusedError as error:
        raise NotThereError(str(error)) from None
