"""Heat flow: a moving source in plates without edges, in a finite coupon, and in a coupon as one warm lump."""

from etchbook.procedure.heat_flow.coupon import Coupon, temperatures
from etchbook.procedure.heat_flow.isotherms import History, Isotherm, history, plan_isotherms, section_isotherms
from etchbook.procedure.heat_flow.lumped import bead_series, fitted_constant
from etchbook.procedure.heat_flow.molten import CONDUCTION, Fused, fused, t85
from etchbook.procedure.heat_flow.sensitivity import Change, change, stick_out_change, usual_changes

__all__ = [
    "CONDUCTION",
    "Change",
    "Coupon",
    "Fused",
    "History",
    "Isotherm",
    "bead_series",
    "change",
    "fitted_constant",
    "fused",
    "history",
    "plan_isotherms",
    "section_isotherms",
    "stick_out_change",
    "t85",
    "temperatures",
    "usual_changes",
]
