"""The command ``reckon``."""

import typer

from etchbook.cli.weld import AS_JSON


def reckon(
    formula: str = typer.Argument("", metavar="FORMULA", help="Its id; left out, they are listed."),
    words: list[str] = typer.Argument(None, metavar="[NAME=VALUE]...", help="force=98.07N diagonal_1=0.231±0.001mm"),
    json: bool = AS_JSON,
) -> None:
    """Reckon one formula: grain size, Vickers, t8/5, deposited area ...; with nothing list them all.

    A number without a unit is taken in the unit that the list names. ± gives its standard uncertainty.
    """
    from etchbook.cli import show
    from etchbook.quantity import Absent
    from etchbook.usecases import RefusedError, formulary
    from etchbook.wiring.told import as_record, cells

    if not formula:
        _list(json)
        return
    held = formulary.formula_named(formula)
    units = formulary.input_units(held)
    figure = formulary.reckoned(held, dict(_given(word, units) for word in words or ()))
    if isinstance(figure.quantity, Absent):
        raise RefusedError(figure.quantity.reason)
    if json:
        show.as_json(as_record(figure))
        return
    show.table(("figure", "value", "U (k=2)", "unit", "in inches", "id"), [cells(figure)])
    for note in (*figure.notes, f"source: {figure.source} ({figure.status})"):
        print(note)


def _given(word: str, units: "dict[str, str] | object") -> tuple[str, tuple[float, float]]:
    from collections.abc import Mapping

    from etchbook.usecases.keeping.settings import pair
    from etchbook.wiring.units import listed

    assert isinstance(units, Mapping)
    name, typed = pair(word)
    name = name.strip()
    found = listed(typed.strip(), units.get(name, ""), name)
    return name, (found.value, found.u or 0.0)


def _list(json: bool) -> None:
    from etchbook.cli import show
    from etchbook.usecases import formulary

    rows = []
    for one in formulary.formulas():
        takes = ", ".join(f"{name} [{unit}]" if unit else name for name, unit in formulary.input_units(one).items())
        rows.append((one.id, one.label, one.unit, takes, f"{one.source} ({one.status})"))
    if json:
        show.as_json([dict(zip(("id", "label", "unit", "takes", "source"), row, strict=True)) for row in rows])
        return
    show.table(("formula", "gives", "unit", "takes", "source"), rows)
