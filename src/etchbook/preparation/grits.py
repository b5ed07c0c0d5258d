"""Grinding papers and polishing agents by name, in both systems, by grain size."""

import math
import re
from typing import Any

from etchbook.preparation.records import Grit, PreparationError
from etchbook.tables.packaged import packaged

CLOSE = 0.105
"""Sizes that differ by less than this share (as a logarithm) are called the same."""


def grit(name: str) -> Grit:
    """A paper or polishing agent by its name.

    Parameters
    ----------
    name : ``P240`` (FEPA), ``ANSI 240`` or ``240`` (ANSI), ``3 µm`` or ``3 µm diamond``

    Returns
    -------
    Grit
        Its grain size [µm]. A number without P is an ANSI number: 400 is about twice as fine as it reads as P400.
    """
    plain = " ".join(name.replace("μ", "µ").split())
    if found := re.fullmatch(r"(?i)(?:fepa )?p ?(\d+)", plain):
        return _named("fepa", f"P{found[1]}", name)
    if found := re.fullmatch(r"(?i)(?:ansi|cami)? ?(\d+)(?: ansi| cami)?", plain):
        return _named("ansi", found[1], name)
    for row in packaged("papers")["polish"]:
        if plain.lower() in (row["name"].lower(), row["name"].lower().rpartition(" ")[0]):
            return _grit(row, "")
    raise PreparationError(f'"{name}" is no paper that is known here: write P240, ANSI 240 or 3 µm diamond')


def ansi_words(um: float) -> str:
    """The ANSI number nearest to a grain size [µm], or the two that it lies between."""
    rows = packaged("papers")["ansi"]
    away = {row["name"]: math.log(um / row["um"]) for row in rows}
    best = min(away, key=lambda name: abs(away[name]))
    if abs(away[best]) <= CLOSE:
        return str(best)
    coarser = [name for name in away if away[name] < 0]
    finer = [name for name in away if away[name] > 0]
    if not coarser:
        return f"coarser than {finer[0]}"
    return f"between {coarser[-1]} and {finer[0]}" if finer else f"finer than {coarser[-1]}"


def nearest_fepa(um: float) -> Grit:
    """The FEPA paper nearest to a grain size [µm]."""
    row = min(packaged("papers")["fepa"], key=lambda row: abs(math.log(um / row["um"])))
    return grit(row["name"])


def _named(system: str, wanted: str, said: str) -> Grit:
    for row in packaged("papers")[system]:
        if row["name"] == wanted:
            return _grit(row, wanted if system == "ansi" else ansi_words(row["um"]))
    known = ", ".join(row["name"] for row in packaged("papers")[system])
    raise PreparationError(f'"{said}" is no grit that is known here: {system.upper()} knows {known}')


def _grit(row: dict[str, Any], ansi: str) -> Grit:
    source = packaged("papers")["sources"][row["from"]]
    name = f"ANSI {row['name']}" if row["name"].isdigit() else row["name"]
    return Grit(name=name, um=row["um"], ansi=ansi, source=source, status=row["status"])
