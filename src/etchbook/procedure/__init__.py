"""Floor 3: welding arithmetic: one formula one function, with its edition, its range and its source."""

from etchbook.procedure.carbon import ce_iiw, cet, pcm
from etchbook.procedure.compare import compare_with_section
from etchbook.procedure.composing import composition
from etchbook.procedure.cooling import cooling_time
from etchbook.procedure.energy import arc_energy, heat_input
from etchbook.procedure.figures import procedure_figures
from etchbook.procedure.formulas import FORMULAS, Formula
from etchbook.procedure.indenting import hardness_limit
from etchbook.procedure.melting import amps_from_feed, fit_melting
from etchbook.procedure.records import (
    Beside,
    Figure,
    Pointer,
    ProcedureError,
    ProcedureFigures,
    SectionComparison,
    Settings,
)

__all__ = [
    "FORMULAS",
    "Beside",
    "Figure",
    "Formula",
    "Pointer",
    "ProcedureError",
    "ProcedureFigures",
    "SectionComparison",
    "Settings",
    "amps_from_feed",
    "arc_energy",
    "ce_iiw",
    "cet",
    "compare_with_section",
    "composition",
    "cooling_time",
    "fit_melting",
    "hardness_limit",
    "heat_input",
    "pcm",
    "procedure_figures",
]
