"""Reads photographs of cut-and-etched weld sections: outline, dimensions with uncertainty, judgement, report.

>>> import etchbook
>>> r = etchbook.read("photo.jpg", joint="tee", px_per_mm=41.2)  # doctest: +SKIP
>>> r.dimensions["leg_1"]  # doctest: +SKIP
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from etchbook.acceptance.records import Judgement, Verdict
    from etchbook.joint import Groove, Joint
    from etchbook.picture import NoScale, Picture, Scale
    from etchbook.procedure import Settings
    from etchbook.quantity import Absent, Measured
    from etchbook.section import Mark, Preparation, Reading
    from etchbook.tables import limit_sets
    from etchbook.usecases import RefusedError
    from etchbook.usecases.checks import run_checks
    from etchbook.wiring import ask, line
    from etchbook.wiring.explaining import explain as explain
    from etchbook.wiring.library import heat, judge, paint, read, weld
    from etchbook.wiring.view import ReadingView

__version__ = "0.1.0"

# Names are fetched when first used: `import etchbook` stays quick, and a command loads only what it needs.
_HOMES = {
    "Absent": "quantity",
    "Groove": "joint",
    "Joint": "joint",
    "Judgement": "acceptance.records",
    "Mark": "section",
    "Measured": "quantity",
    "NoScale": "picture",
    "Picture": "picture",
    "Preparation": "section",
    "Reading": "section",
    "ReadingView": "wiring.view",
    "RefusedError": "usecases",
    "Scale": "picture",
    "Settings": "procedure",
    "Verdict": "acceptance.records",
    "ask": "wiring.ask",
    "explain": "wiring.explaining",
    "heat": "wiring.library",
    "judge": "wiring.library",
    "limit_sets": "tables",
    "line": "wiring.line",
    "paint": "wiring.library",
    "read": "wiring.library",
    "run_checks": "usecases.checks",
    "weld": "wiring.library",
}

__all__ = [
    "Absent",
    "Groove",
    "Joint",
    "Judgement",
    "Mark",
    "Measured",
    "NoScale",
    "Picture",
    "Preparation",
    "Reading",
    "ReadingView",
    "RefusedError",
    "Scale",
    "Settings",
    "Verdict",
    "__version__",
    "ask",
    "heat",
    "judge",
    "limit_sets",
    "line",
    "paint",
    "read",
    "run_checks",
    "weld",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"etchbook has no {name}")
    home = import_module(f"etchbook.{_HOMES[name]}")
    value = home if _HOMES[name].endswith(f".{name}") else getattr(home, name)  # `ask` and `line` are modules of verbs
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return __all__
