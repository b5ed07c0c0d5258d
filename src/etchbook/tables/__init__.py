"""Floor 1: published values as packaged data, each with where it stands and how it is known."""

from etchbook.tables.cautions import cautions
from etchbook.tables.checks import check_rows
from etchbook.tables.formulas import Formula, formula
from etchbook.tables.limits import limit_sets, load_limits
from etchbook.tables.own import own_limits
from etchbook.tables.records import Caution, CheckRow, Limit, LimitSet, TablesError

__all__ = [
    "Caution",
    "CheckRow",
    "Formula",
    "Limit",
    "LimitSet",
    "TablesError",
    "cautions",
    "check_rows",
    "formula",
    "limit_sets",
    "load_limits",
    "own_limits",
]
