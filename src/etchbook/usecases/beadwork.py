"""A bead of the book: its settings as the arithmetic takes them, its sheet of figures, and its sections beside it."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

from etchbook.procedure import ProcedureFigures, SectionComparison, Settings, compare_with_section, procedure_figures
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.terms import Family
from etchbook.trials import parent_code
from etchbook.trials.records import Bead, Certificate, Coupon, Dimension, Plate, ReadingEdition, Trial
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.reckoning import settings_of_bead
from etchbook.usecases.reckoning_words import material_named

SHOWN = ("heat_input", "cooling_time", "deposited_area", "fillet_leg")
"""What stands beside a bead in one line."""


def settings_in_book(store: BookStore, code: str) -> Settings:
    """A bead's settings with what its trial, its coupon and its plates' certificate say.

    Parameters
    ----------
    store : the open book
    code : of the bead

    Returns
    -------
    Settings
        What is logged with the bead counts before what stands with the trial or the coupon; nothing is filled in.
    """
    bead, _ = held(store, code, Bead)
    trial, _ = held(store, parent_code(bead.code), Trial)
    coupon = _coupon(store, trial.code, bead.code)
    plates = {} if coupon is None else {plate.member: plate for plate in coupon.plates}
    settings = settings_of_bead(bead, trial, _composition(store, plates.get(1)))
    return settings if coupon is None else _with_coupon(settings, coupon, plates)


def _coupon(store: BookStore, trial: str, bead: str) -> Coupon | None:
    records = (entry.record for entry in store.tree(trial))
    return next((one for one in records if isinstance(one, Coupon) and bead in one.beads), None)


def _composition(store: BookStore, plate: Plate | None) -> Mapping[str, float]:
    entry = store.entry(plate.certificate) if plate is not None and plate.certificate else None
    return entry.record.composition if entry is not None and isinstance(entry.record, Certificate) else {}


def _with_coupon(settings: Settings, coupon: Coupon, plates: Mapping[int, Plate]) -> Settings:
    known: dict[str, Any] = {}
    if settings.plate_length is None and coupon.length is not None:
        known["plate_length"] = coupon.length
    for member in (1, 2):
        thickness = plates[member].thickness if member in plates else None
        if getattr(settings, f"thickness_{member}") is None and thickness is not None:
            known[f"thickness_{member}"] = thickness
    named = material_named(plates[1].material) if 1 in plates else ""
    return replace(settings, material=settings.material or named, **known)


def sheet_of_bead(store: BookStore, code: str, *, conduction: bool = False) -> ProcedureFigures:
    """Everything that a bead of the book comes to; without `conduction` it is quick enough for every listing."""
    return procedure_figures(settings_in_book(store, code), conduction=conduction)


def sections_of_bead(store: BookStore, code: str) -> tuple[tuple[str, SectionComparison], ...]:
    """Each reading of a bead's sections beside what its settings predict, by the code of the reading."""
    settings = settings_in_book(store, code)
    readings = [one for one in store.tree(held(store, code, Bead)[0].code) if isinstance(one.record, ReadingEdition)]
    return tuple((one.code, _compared(settings, one.record)) for one in readings if _family(one.record))


def _family(record: object) -> bool:
    return isinstance(record, ReadingEdition) and record.family in get_args(Family)


def _compared(settings: Settings, record: object) -> SectionComparison:
    assert isinstance(record, ReadingEdition)
    family: Family = record.family  # type: ignore[assignment]
    return compare_with_section(settings, {one.name: _quantity(one) for one in record.dimensions}, family)


def _quantity(one: Dimension) -> Quantity:
    if one.value is None or one.u is None:
        return Absent(reason=one.absent or "it was not read")
    return Measured(value=one.value, u=one.u, unit=one.unit, dof=math.inf if one.dof is None else one.dof)
