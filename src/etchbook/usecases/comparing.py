"""Two groups of beads side by side: what differs, whether it is more than scatter, and what else moved with it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from etchbook.evidence import Answer
from etchbook.procedure.heat_flow import Coupon
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS, dimensions_of
from etchbook.trials.amount_shape import Split, split
from etchbook.trials.causes import from_log, from_readings
from etchbook.trials.confounding import Suspect, suspects
from etchbook.trials.difference import Difference, difference
from etchbook.trials.scatter import BeadResponse, Scatter
from etchbook.usecases.comparing_notes import form_scatter, notes_on
from etchbook.usecases.effects import FILLET_NOTE, Beside, beside
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.expecting import FILLETS, Expected
from etchbook.usecases.scatters import scatter_for, way_of_welding

MARGINS = {"mm": 0.2, "mm²": 1.0, "°": 5.0, "%": 3.0, "": 0.03}
"""Differences up to this are of no practical consequence, by unit (judged; 0.2 mm as research note 6b)."""
HEIGHTS = ("convexity", "excess_weld_metal")


@dataclass(frozen=True, kw_only=True, slots=True)
class BeadReadings:
    """A bead with the readings of its sections, its settings and its place in the order.

    Parameters
    ----------
    code : of the bead
    sections : one tuple a section, one reading or several of it
    settings : numbers in the unit of their term, or words
    """

    code: str
    sections: tuple[tuple[Reading, ...], ...]
    settings: Mapping[str, float | str]
    order: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One dimension side by side.

    Parameters
    ----------
    dimension, unit : id and unit
    a, b : mean of each group with the u that reading leaves on it; Absent where it was not read on every bead
    difference : Absent where it cannot be reckoned
    scatter : from bead to bead that it was held against; None where the beads spoke for themselves
    beads : response of each bead, a first
    """

    dimension: str
    unit: str
    a: Quantity
    b: Quantity
    difference: Difference | Absent
    scatter: Scatter | None
    beads: tuple[tuple[BeadResponse, ...], tuple[BeadResponse, ...]]


@dataclass(frozen=True, kw_only=True, slots=True)
class Comparison:
    """Two groups of beads compared.

    Parameters
    ----------
    names : what the groups are called
    rows : dimensions in their order
    splits : change of a height split into amount and form, by dimension
    suspects : settings that differ, moved along, or were not logged
    beside : what the differing settings would do by conduction, beside what was seen
    answers : what log and readings say by themselves about causes
    notes : what to know
    """

    names: tuple[str, str]
    groups: tuple[tuple[BeadReadings, ...], tuple[BeadReadings, ...]]
    rows: tuple[Row, ...]
    splits: Mapping[str, Split]
    suspects: tuple[Suspect, ...]
    beside: Beside
    answers: tuple[Answer, ...]
    notes: tuple[str, ...]

    @property
    def expected(self) -> tuple[Expected, ...] | Absent:
        """What the differing settings would do by conduction, all of them together last."""
        return self.beside.rows


def compare(
    a: Sequence[BeadReadings],
    b: Sequence[BeadReadings],
    *,
    names: tuple[str, str] = ("a", "b"),
    scatter: Mapping[str, Scatter] | None = None,
    welding: str = "",
    margins: Mapping[str, float] | None = None,
    under_test: str = "",
    coupon: Coupon | Absent | None = None,
    taken: str = "",
) -> Comparison:
    """Compare two groups of beads in every dimension that was read.

    Parameters
    ----------
    a, b : one or more beads each, all of one joint
    names : what the groups are called
    scatter : from bead to bead, by dimension, where the own book knows it
    welding : "mechanised" or "hand": which planning value stands in for it elsewhere
    margins : differences of no consequence, by dimension
    under_test : the setting that was meant to differ
    coupon : plate and heat of a bead of group a, for what the settings are expected to do
    taken : what was taken as given for it
    """
    families = {reading.joint.family for bead in (*a, *b) for section in bead.sections for reading in section}
    if len(families) != 1:
        raise RefusedError(f"beads of one joint are compared, not {' and '.join(sorted(families)) or 'none'}")
    way_of_welding(welding)
    terms = dimensions_of(next(iter(families)))
    rows = [_row(term.id, term.unit, a, b, scatter or {}, welding, margins or {}) for term in terms]
    shown = tuple(row for row in rows if not (isinstance(row.a, Absent) and isinstance(row.b, Absent)))
    sides = {row.dimension: (row.a, row.b) for row in shown}
    found = suspects([bead.settings for bead in a], [bead.settings for bead in b], under_test=under_test)
    settings = [bead.settings for bead in a], [bead.settings for bead in b]
    family = next(iter(families))
    told = [f"Expected effects: {taken}."] if taken else []
    told += [FILLET_NOTE] if family in FILLETS and isinstance(coupon, Coupon) else []
    return Comparison(
        names=names,
        groups=(tuple(a), tuple(b)),
        rows=shown,
        splits=_splits(sides),
        suspects=found,
        beside=beside(coupon, family, settings, sides, found),
        answers=_answers(a, b, sides, scatter or {}),
        notes=(*_notes(a, b), *_usual_margins(shown, margins or {}), *notes_on(shown, names, scatter or {}), *told),
    )


def _row(
    name: str,
    unit: str,
    a: Sequence[BeadReadings],
    b: Sequence[BeadReadings],
    known: Mapping[str, Scatter],
    welding: str,
    margins: Mapping[str, float],
) -> Row:
    held = (_responses(a, name), _responses(b, name))
    means = tuple(_mean(side, group, unit) for side, group in zip(held, (a, b), strict=True))
    whole = all(isinstance(mean, Measured) for mean in means)
    apart: Difference | Absent = Absent(reason="not read on every bead")
    spread = known.get(name) or _planning(name, welding)
    if whole:
        apart = difference(*held, scatter=spread, margin=margins.get(name, MARGINS.get(unit, 0.2)))
    return Row(dimension=name, unit=unit, a=means[0], b=means[1], difference=apart, scatter=spread, beads=held)


def _planning(name: str, welding: str) -> Scatter | None:
    try:
        return scatter_for(name, None, None, welding)
    except RefusedError:  # known for the other way of welding alone
        return None


def _responses(beads: Sequence[BeadReadings], name: str) -> tuple[BeadResponse, ...]:
    """The beads on which the dimension was read on every section."""
    told = []
    for bead in beads:
        values = [[reading.dimensions.get(name) for reading in section] for section in bead.sections]
        if all(isinstance(value, Measured) for section in values for value in section):
            sections = tuple(tuple(v for v in section if isinstance(v, Measured)) for section in values)
            told.append(BeadResponse(code=bead.code, sections=sections, order=bead.order))
    return tuple(told)


def _mean(held: Sequence[BeadResponse], beads: Sequence[BeadReadings], unit: str) -> Quantity:
    if len(held) < len(beads):
        lacking = sorted({bead.code for bead in beads} - {bead.code for bead in held})
        return Absent(reason=f"not read on {', '.join(lacking)}")
    value = sum(bead.mean for bead in held) / len(held)
    u = sum(bead.u_reading**2 for bead in held) ** 0.5 / len(held)
    return Measured(value=value, u=u, unit=unit)


def _splits(sides: Mapping[str, tuple[Quantity, Quantity]]) -> dict[str, Split]:
    areas = sides.get("deposited_area")
    told = {}
    for name in HEIGHTS:
        pair = sides.get(name)
        if areas is None or pair is None:
            continue
        held = [one for one in (*pair, *areas) if isinstance(one, Measured)]
        if len(held) == 4 and min(held[2].value, held[3].value) > 0:
            told[name] = split(held[0], held[1], held[2], held[3], name=DIMENSIONS[name].label, widths=_widths(sides))
    return told


def _widths(sides: Mapping[str, tuple[Quantity, Quantity]]) -> tuple[Measured, Measured] | None:
    """Weld width of both groups, or of fillets the mean leg; None where not read."""
    names = ("weld_width",) if "weld_width" in sides else ("leg_1", "leg_2")
    held = [[sides[name][side] for name in names if name in sides] for side in (0, 1)]
    read = [[one for one in side if isinstance(one, Measured)] for side in held]
    if any(len(side) < len(names) for side in read):
        return None
    first, second = (
        Measured(
            value=sum(one.value for one in side) / len(side),
            u=sum(one.u**2 for one in side) ** 0.5 / len(side),
            unit=side[0].unit,
        )
        for side in read
    )
    return first, second


def _answers(
    a: Sequence[BeadReadings],
    b: Sequence[BeadReadings],
    sides: Mapping[str, tuple[Quantity, Quantity]],
    known: Mapping[str, Scatter],
) -> tuple[Answer, ...]:
    numbers = [[_numbers(bead) for bead in group] for group in (a, b)]
    usual, odd = ({name: pair[side] for name, pair in sides.items()} for side in (0, 1))
    height = next((name for name in HEIGHTS if name in sides), "")
    width = "weld_width" if "weld_width" in sides else "leg_1"
    spread = form_scatter(known, usual, height, width)
    read = from_readings(usual, odd, height=height, width=width, form_scatter=spread) if height else ()
    return (*from_log(numbers[0], numbers[1]), *read)


def _numbers(bead: BeadReadings) -> dict[str, float]:
    held = {name: float(value) for name, value in bead.settings.items() if not isinstance(value, str)}
    return held | ({"order": float(bead.order)} if bead.order is not None else {})


def _notes(a: Sequence[BeadReadings], b: Sequence[BeadReadings]) -> tuple[str, ...]:
    said = ["The bead counts once, however often it was cut or read."]
    if len(a) == len(b) == 1:
        said.append("One bead against one tells only differences larger than 2.77 times the scatter of like beads.")
    rows = len(dimensions_of(a[0].sections[0][0].joint.family))
    said.append(
        f"With {rows} dimensions side by side about one in twenty would seem to differ by chance alone: say beforehand "
        "which one the question is about."
    )
    if all(bead.order is None for bead in (*a, *b)):
        said.append("The order of the beads was not given, so drift over the session cannot be seen.")
    return tuple(said)


def _usual_margins(rows: Sequence[Row], given: Mapping[str, float]) -> Iterator[str]:
    units = dict.fromkeys(row.unit for row in rows if row.dimension not in given and row.unit in MARGINS)
    told = ", ".join(f"±{MARGINS[unit]:g}{'' if unit in ('°', '') else ' '}{unit}" for unit in units)
    if told:
        yield f"Differences of no consequence are the usual ones (judged: {told}) where you give none of your own."
