"""Heat flow: a moving source in plates without edges, in a finite coupon, and in a coupon as one warm lump."""

from etchbook.procedure.heat_flow.coupon import Coupon, temperatures
from etchbook.procedure.heat_flow.lumped import bead_series, fitted_constant
from etchbook.procedure.heat_flow.molten import CONDUCTION, Fused, fused, t85

__all__ = ["CONDUCTION", "Coupon", "Fused", "bead_series", "fitted_constant", "fused", "t85", "temperatures"]
