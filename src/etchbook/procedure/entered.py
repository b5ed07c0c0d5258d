"""Importing this module enters every formula of the room in the register."""

from etchbook.procedure import carbon, cooling, energy, grain, hardness, indenting, melting, nozzle, rules, wire
from etchbook.procedure.formulas import FORMULAS
from etchbook.procedure.heat_flow import estimates, lumped, rosenthal

MODULES = (
    energy,
    cooling,
    carbon,
    hardness,
    wire,
    melting,
    nozzle,
    rules,
    rosenthal,
    estimates,
    lumped,
    indenting,
    grain,
)

__all__ = ["FORMULAS", "MODULES"]
