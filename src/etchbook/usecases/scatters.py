"""The scatter to reckon with: what the person says, else a packaged planning value, else none."""

import math
from collections.abc import Mapping

from etchbook.tables.packaged import packaged
from etchbook.terms import DIMENSIONS
from etchbook.trials.scatter import Scatter
from etchbook.usecases.errors import RefusedError


def way_of_welding(typed: str) -> str:
    """``mechanised``, ``hand`` or "" where nothing was said; else a refusal."""
    if typed not in ("", "mechanised", "hand"):
        raise RefusedError(f'welding is "mechanised" or "hand", not "{typed}"')
    return typed


def scatter_of(
    response: str,
    sd: float | None,
    dof: float | None = None,
    *,
    welding: str = "",
    own: Mapping[str, Scatter] | None = None,
) -> Scatter:
    """Scatter of a response: what the person says, else the book's own, else a planning value, else a refusal.

    Parameters
    ----------
    response : id of a dimension
    sd, dof : what the person says; None where nothing was said
    welding : which planning value is meant
    own : the book's own scatter by dimension
    """
    if response not in DIMENSIONS:
        raise RefusedError(f'"{response}" is no dimension: see `etchbook terms` for the ids')
    mine = None if sd is not None else (own or {}).get(response)
    found = mine or scatter_for(response, sd, dof, welding)
    if found is None:
        raise RefusedError(f"nothing is known of how {response} scatters: give --scatter, from some beads welded alike")
    return found


def scatter_for(response: str, sd: float | None, dof: float | None, welding: str = "") -> Scatter | None:
    """Scatter of a response from bead to bead.

    Parameters
    ----------
    response : id of a dimension
    sd, dof : what the person says, with its degrees of freedom (beads less one); None where nothing was said
    welding : "mechanised" or "hand", which planning value is meant; hand where nothing was said

    Returns
    -------
    Scatter, or None where nothing is known of this response
    """
    way_of_welding(welding)
    if sd is not None:
        if not (math.isfinite(sd) and sd > 0) or (dof is not None and not dof > 0):
            raise RefusedError(f"a scatter and its degrees of freedom are above 0, not {sd:g} and {dof}")
        return Scatter(sd=sd, dof=5.0 if dof is None else dof, source="own beads")
    if dof is not None:
        raise RefusedError("degrees of freedom go with a scatter: give --scatter as well")
    row = next((row for row in packaged("scatter")["scatter"] if row["response"] == response), None)
    if row is None:
        return None
    about = packaged("scatter")["about"]
    way = welding or ("hand" if "hand" in row else "mechanised")
    if way not in row:
        raise RefusedError(f"no planning value of {response} is known for welding by {way}: give --scatter")
    return Scatter(sd=row[way], dof=about["dof"], source=about[way])


def scatter_rows(own: Mapping[str, Scatter], welding: str = "") -> list[tuple[str, ...]]:
    """Scatter from bead to bead of every dimension of which something is known.

    Parameters
    ----------
    own : the book's own scatter by dimension
    welding : which planning value is meant

    Returns
    -------
    list of rows
        Dimension, standard deviation, 95 % interval of it, degrees of freedom, where it comes from, id.
    """
    way_of_welding(welding)
    rows: list[tuple[str, ...]] = []
    for term in DIMENSIONS.values():
        found = own.get(term.id) or _planned(term.id, welding)
        if found is not None:
            low, high = found.limits()
            told = (f"{found.sd:.3g} {term.unit}".strip(), f"{low:.2g} to {high:.2g}", f"{found.dof:g}", found.source)
            rows.append((term.label, *told, term.id))
    return rows


def _planned(response: str, welding: str) -> Scatter | None:
    try:
        return scatter_for(response, None, None, welding)
    except RefusedError:  # known for the other way of welding alone
        return None
