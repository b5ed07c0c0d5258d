"""What follows from the settings before any formula of the sheet: speed, amps, shares, joint factors."""

import math
from itertools import pairwise
from typing import Any

from etchbook.procedure.formulas import Known, Traced, noted, reckon, said
from etchbook.procedure.records import Settings
from etchbook.quantity import Absent
from etchbook.tables.packaged import packaged

PROCESSES = ("135", "131", "136", "138", "114", "111", "121", "141", "15")


class Derived:
    """Numbers with their uncertainty out of one bead's settings; each is reckoned when it is asked for."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings

    def given(self, name: str, need: str = "") -> Known:
        """A setting as it was stated, with its u, or the reason why it is missing."""
        value: float | None = getattr(self.settings, name)
        return said(name, value, self.settings.u.get(name, 0.0), need=need)

    @property
    def travel(self) -> Known:
        """Travel speed [mm/s], as stated or from the bead's length and the arc time."""
        stated = self.given("travel", "travel speed")
        if isinstance(stated, Traced):
            return stated
        found = reckon("travel_speed", bead_length=self.given("bead_length"), arc_time=self.given("arc_time"))
        return found if isinstance(found, Traced) else stated

    @property
    def amps(self) -> Known:
        """Current [A], as stated or by the melting balance."""
        stated = self.given("amps")
        if isinstance(stated, Traced):
            return stated
        found = self.melting_amps
        if isinstance(found, Traced):
            return noted(found, "amps reckoned from feed and stick-out, not read")
        return Absent(reason=f"amps are not stated, and cannot be reckoned because {found.reason}")

    @property
    def melting_amps(self) -> Known:
        """Current [A] by the melting balance, whatever the meter said."""
        refused = self.solid_steel_wire
        if refused:
            return Absent(reason=refused)
        return reckon("amps_from_feed", feed=self.given("wire_feed"), wire=self.wire, stick_out=self.given("stick_out"))

    @property
    def solid_steel_wire(self) -> str:
        """Why the melting balance does not hold for this wire; "" where it does."""
        if not self.settings.process:
            return "process is not stated"
        if self.settings.process not in ("135", "131"):
            return f"the melting balance is for solid wire (process 135), not {self.settings.process}"
        if not self.settings.material:
            return "material is not stated"
        if self.settings.material != "carbon steel":
            return f"the melting balance here is for carbon steel wire, not {self.settings.material}"
        return ""

    @property
    def start(self) -> Known:
        """Temperature of the plate when the bead began [°C]: interpass where it is stated, else the start."""
        if self.settings.interpass_temperature is not None:
            return self.given("interpass_temperature")
        return self.given("start_temperature")

    @property
    def wire(self) -> Known:
        """Wire diameter [mm]."""
        return self.given("wire_diameter")

    @property
    def process(self) -> dict[str, Any]:
        """The packaged row of the process; empty where it is not stated or not known."""
        row: dict[str, Any] = packaged("procedure")["process"].get(self.settings.process, {})
        return row

    @property
    def lacking_process(self) -> str:
        """Why no figure of the process can be had."""
        if not self.settings.process:
            return "process is not stated"
        return f"process {self.settings.process} is not among {', '.join(PROCESSES)}"

    @property
    def k(self) -> Known:
        """Thermal efficiency k, a convention and so exact."""
        if "k" not in self.process:
            return Absent(reason=self.lacking_process)
        return Traced(value=self.process["k"], notes=(f"k = {self.process['k']:g} for {self.process['title']}",))

    @property
    def efficiency(self) -> Known:
        """Deposition efficiency, out of a published table by process and gas."""
        row = self.process
        if not row:
            return Absent(reason=self.lacking_process)
        if "efficiency_by_co2" in row:
            return self._by_gas(row)
        if "efficiency" not in row:
            return Absent(reason=f"no deposition efficiency is tabled for {row['title']}")
        return _share(row["efficiency"], row)

    def _by_gas(self, row: dict[str, Any]) -> Known:
        co2 = self.given("co2", "the CO2 in the shielding gas")
        if isinstance(co2, Absent):
            return co2
        points = row["efficiency_by_co2"]
        if co2.value < points[0][0]:
            return _share(points[0][1], row)
        for (low, first), (high, second) in pairwise(points):
            if co2.value <= high:
                return _share(first + (second - first) * (co2.value - low) / (high - low), row)
        return Absent(reason=f"a gas with {co2.value:g} % CO2 does not exist")

    def factor(self, name: str) -> Known:
        """Joint factor F2 or F3 ("factor_2", "factor_3"): the middle of its range, u from the range's width."""
        family = self.settings.joint
        if family is None:
            return Absent(reason="joint is not stated")
        rows = packaged("procedure")["joint"]
        if family not in rows:
            return Absent(reason=f"no joint factor is tabled for a {family} joint")
        low, high = rows[family][name]
        spread = (high - low) / math.sqrt(12)
        words = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        label = f"joint factor F{name[-1]} {words} ({rows[family]['title']}, {rows[family]['status']})"
        return Traced(value=(low + high) / 2, parts={name: spread} if spread else {}, notes=(label,))

    @property
    def thickness(self) -> Known:
        """The thinner plate [mm]: it cools most slowly."""
        return self._plate(min, "thinner")

    @property
    def thicker(self) -> Known:
        """The thicker plate [mm]: it calls for the most preheat."""
        return self._plate(max, "thicker")

    def _plate(self, choose: Any, word: str) -> Known:
        first = self.given("thickness_1", "thickness of member 1")
        if self.settings.joint in (None, "bead") or isinstance(first, Absent):
            return first
        second = self.given("thickness_2", "thickness of member 2")
        if isinstance(second, Absent):
            return second
        if first.value == second.value:
            return first
        chosen: Traced = choose((first, second), key=lambda one: one.value)
        return noted(chosen, f"reckoned with the {word} plate, {chosen.value:g} mm")

    def elements(self, symbols: tuple[str, ...]) -> dict[str, Known]:
        """These elements of the plate [% by mass]; where some are not stated, one reason names them all."""
        held = self.settings.composition
        lacking = ", ".join(symbol for symbol in symbols if symbol not in held)
        need = "the plate's composition" if not held else f"the plate's content of {lacking} (0 where it has none)"
        return {one: said(one, held.get(one), self.settings.u.get(one, 0.0), need=need) for one in symbols}

    @property
    def metal(self) -> dict[str, Any]:
        """The packaged row of the plate's material; empty where it is not stated or not known."""
        row: dict[str, Any] = packaged("procedure")["material"].get(self.settings.material, {})
        return row

    def property(self, name: str) -> Known:
        """A property of the plate's material, with u where the table has one."""
        if name not in self.metal:
            known = ", ".join(packaged("procedure")["material"])
            why = "material is not stated" if not self.settings.material else f"no {name} is tabled for it: use {known}"
            return Absent(reason=why)
        spread = self.metal.get(f"{name}_u", 0.0)
        return Traced(value=float(self.metal[name]), parts={name: spread} if spread else {})


def _share(value: float, row: dict[str, Any]) -> Known:
    note = f"deposition efficiency {value:.3g} ({row['efficiency_source']}, {row['efficiency_status']})"
    return Traced(value=value, parts={"deposition efficiency": row["efficiency_u"]}, notes=(note,))
