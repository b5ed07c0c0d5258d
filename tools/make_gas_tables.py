"""Write the gas tables that ship: phase boundary, density, sound speed and throttling of argon with CO2, O2 or helium.

Needs the optional extra `gas` (CoolProp, model HEOS: EOS-CG of Gernert and Span for CO2, GERG-2008 for the rest).
Run it again when the model changes; the tables say which version made them.

    python tools/make_gas_tables.py
"""

import math
from collections.abc import Iterable, Sequence
from pathlib import Path

import CoolProp
from CoolProp import AbstractState
from scipy.optimize import brentq, root

DATA = Path(__file__).resolve().parent.parent / "src" / "etchbook" / "tables" / "data"
MODEL = f"CoolProp {CoolProp.__version__}, HEOS (EOS-CG mixture model of Gernert and Span), run by the script"
GERG = f"CoolProp {CoolProp.__version__}, HEOS (GERG-2008 mixture model), run by the script"
TRIPLE_C = -56.6
LIQUID = (
    0.9999,
    0.9996,
    0.999,
    *(round(0.998 - 0.004 * step, 4) for step in range(11)),
    *(round(0.95 - 0.0125 * step, 4) for step in range(41)),
)
PHASE_C = tuple(float(t) for t in range(-56, 25, 2))
SHARES = tuple(round(0.05 * step, 2) for step in range(11))
DENSITY_C = tuple(float(t) for t in range(-40, 71, 10))
DENSITY_BAR = (1.01325, 10.0, *(float(p) for p in range(20, 321, 20)))
SOUND_SHARES = (0.0, 0.02, 0.05, 0.08, 0.10, 0.12, 0.15, 0.18, 0.20, 0.22, 0.25, 0.28, 0.30, 0.4, 0.5, 0.75, 1.0)
SOUND_C = (-10.0, 0.0, 10.0, 20.0, 30.0, 40.0)
THROTTLE_C = (-20.0, 0.0, 20.0, 40.0)
THROTTLE_BAR = (20.0, 50.0, 100.0, 150.0, 200.0, 230.0)
THROTTLE_SHARES = (0.0, 0.1, 0.15, 0.2, 0.25, 0.3)
THROTTLE_OUT_BAR = 4.0
OTHERS = {"o2": "Oxygen", "he": "Helium"}
OTHER_SHARES = {
    "o2": (0.0, 0.02, 0.05, 0.10, 0.15),
    "he": (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0),
}
COLDEST_K = 140.0


def mixture(share: float, second: str = "CO2") -> AbstractState:
    """The model at a mole fraction of the second gas, as a gas."""
    if share in (0.0, 1.0):
        state = AbstractState("HEOS", second if share else "Argon")
    else:
        state = AbstractState("HEOS", f"Argon&{second}")
        state.set_mole_fractions([1 - share, share])
    return state


Point = tuple[float, float, float, float]


class Sheet:
    """Liquid and vapour side by side at one temperature, followed from pure CO2 towards the critical point.

    The library's own search loses its way near the critical point, so the three conditions
    (one pressure, two fugacities) are solved here, each start carried on from the points before.
    """

    def __init__(self, celsius: float) -> None:
        self.kelvin = celsius + 273.15
        self.liquid, self.vapour = (AbstractState("HEOS", "Argon&CO2") for _ in range(2))
        for state in (self.liquid, self.vapour):
            state.specify_phase(CoolProp.iphase_gas)

    def points(self) -> list[Point]:
        """Pressure [bar], CO2 in the vapour, molar densities of liquid and vapour [mol/L], one a liquid of LIQUID."""
        found = [self._first()]
        for index in range(1, len(LIQUID)):
            before = found[-2:]
            if index < 4:  # near pure CO2 the vapour's argon goes with the liquid's
                bar, vapour, dense, thin = before[-1]
                argon = (1 - vapour) * (1 - LIQUID[index]) / (1 - LIQUID[index - 1])
                start = [bar, 1 - argon, dense, thin * vapour / (1 - argon)]
            else:
                reach = (LIQUID[index] - LIQUID[index - 1]) / (LIQUID[index - 1] - LIQUID[index - 2])
                start = [after + reach * (after - first) for first, after in zip(*before, strict=True)]
            point = self._solved(LIQUID[index], start)
            if point is None or point[2] - point[3] < 0.4:
                break
            found.append(point)
        return found

    def _first(self) -> Point:
        state = AbstractState("HEOS", "CO2")
        state.update(CoolProp.QT_INPUTS, 0, self.kelvin)
        dense = state.saturated_liquid_keyed_output(CoolProp.iDmolar) / 1e3
        thin = state.saturated_vapor_keyed_output(CoolProp.iDmolar) / 1e3
        point = self._solved(LIQUID[0], [state.p() / 1e5, 0.999, dense, thin])
        assert point is not None
        return point

    def _solved(self, share: float, start: Sequence[float]) -> Point | None:
        self.liquid.set_mole_fractions([1 - share, share])
        answer = root(self._misfit, start[1:], tol=1e-10)
        if not (answer.success or abs(answer.fun).max() < 1e-7):
            return None
        vapour, dense, thin = (float(value) for value in answer.x)
        return self.liquid.p() / 1e5, vapour, dense, thin

    def _misfit(self, unknown: Sequence[float]) -> list[float]:
        vapour, dense, thin = float(unknown[0]), float(unknown[1]), float(unknown[2])
        if not (0 < vapour < 1 and dense > 0 and thin > 0):
            return [1e3, 1e3, 1e3]
        self.vapour.set_mole_fractions([1 - vapour, vapour])
        self.liquid.update(CoolProp.DmolarT_INPUTS, dense * 1e3, self.kelvin)
        self.vapour.update(CoolProp.DmolarT_INPUTS, thin * 1e3, self.kelvin)
        apart = [math.log(self.liquid.fugacity(i) / self.vapour.fugacity(i)) for i in (0, 1)]
        return [*apart, (self.liquid.p() - self.vapour.p()) / self.vapour.p()]


def settle(state: AbstractState, pascal: float, kelvin: float) -> None:
    """Put the state at the thinnest density that has this pressure; the model's own solver at times finds none."""
    state.specify_phase(CoolProp.iphase_gas)

    def excess(density: float) -> float:
        state.update(CoolProp.DmolarT_INPUTS, density, kelvin)
        return float(state.p()) - pascal

    ideal = pascal / (8.314462618 * kelvin)
    highest = next(step * ideal for step in (1.02, 1.2, 1.5, 2.0, 2.5) if excess(step * ideal) > 0)
    excess(brentq(excess, 0.3 * ideal, highest, xtol=1e-7, rtol=1e-12))


def phase_rows() -> Iterable[str]:
    """One table an isotherm, from pure CO2 towards the critical point."""
    for celsius in PHASE_C:
        good = Sheet(celsius).points()
        columns = list(zip(*good, strict=True))
        yield "\n".join(
            [
                "[[isotherm]]",
                f"t_c = {celsius}",
                f"liquid = {numbers(LIQUID[: len(good)], 4)}",
                f"bar = {numbers(columns[0], 3)}",
                f"vapour = {numbers(columns[1], 5)}",
                f"liquid_mol_per_l = {numbers(columns[2], 4)}",
                f"vapour_mol_per_l = {numbers(columns[3], 4)}",
                "",
            ]
        )


def compressibility(share: float, celsius: float, bar: float, split_below: dict[float, float]) -> float:
    """Z of the single phase, nan where a liquid could stand beside it."""
    if share and celsius <= split_below[share] + 2:
        return math.nan
    state = mixture(share)
    settle(state, bar * 1e5, celsius + 273.15)
    return float(bar * 1e5 / (state.rhomolar() * state.gas_constant() * state.T()))


def split_limits() -> dict[float, float]:
    """Warmest tabled temperature at which a liquid of any composition can stand beside vapour of this share."""
    limits = dict.fromkeys(SHARES, TRIPLE_C)
    for celsius in PHASE_C:
        leanest = min(point[1] for point in Sheet(celsius).points())
        limits.update({share: celsius for share in SHARES if share >= leanest})
    return limits


def density_rows() -> Iterable[str]:
    """One table a composition; rows are temperatures, columns pressures."""
    limits = split_limits()
    for share in SHARES:
        rows = [[compressibility(share, t, p, limits) for p in DENSITY_BAR] for t in DENSITY_C]
        told = ",\n  ".join(numbers(row, 5) for row in rows)
        yield f"[[composition]]\nco2 = {share}\nz = [\n  {told},\n]\n"


def sound_rows() -> Iterable[str]:
    """Sound speed at one atmosphere; one row a composition, columns are temperatures."""
    for share in SOUND_SHARES:
        row = []
        for celsius in SOUND_C:
            state = mixture(share)
            settle(state, 101325.0, celsius + 273.15)
            row.append(state.speed_sound())
        yield f"[[composition]]\nco2 = {share}\nm_per_s = {numbers(row, 3)}\n"


def throttled(share: float, celsius: float, bar: float, second: str = "CO2") -> float:
    """Temperature [°C] after throttling to THROTTLE_OUT_BAR at constant enthalpy, kept as one phase throughout."""
    start, end = mixture(share, second), mixture(share, second)
    settle(start, bar * 1e5, celsius + 273.15)
    wanted, low, high = start.hmolar(), COLDEST_K, celsius + (295.0 if second == "Helium" else 275.0)
    for _ in range(50):
        middle = (low + high) / 2
        settle(end, THROTTLE_OUT_BAR * 1e5, middle)
        low, high = (middle, high) if end.hmolar() < wanted else (low, middle)
    return (low + high) / 2 - 273.15 if low > COLDEST_K else math.nan


def throttle_rows() -> Iterable[str]:
    """One table a composition; rows are start temperatures, columns supply pressures."""
    for share in THROTTLE_SHARES:
        rows = [[throttled(share, t, p) for p in THROTTLE_BAR] for t in THROTTLE_C]
        told = ",\n  ".join(numbers(row, 1) for row in rows)
        yield f"[[composition]]\nco2 = {share}\nafter_c = [\n  {told},\n]\n"


def other_density_rows(name: str) -> Iterable[str]:
    """Z of argon with O2 or helium, which are one phase at every temperature of the table."""
    for share in OTHER_SHARES[name]:
        rows = []
        for celsius in DENSITY_C:
            state = mixture(share, OTHERS[name])
            row = []
            for bar in DENSITY_BAR:
                settle(state, bar * 1e5, celsius + 273.15)
                row.append(bar * 1e5 / (state.rhomolar() * state.gas_constant() * state.T()))
            rows.append(numbers(row, 5))
        told = ",\n  ".join(rows)
        yield f"[[composition]]\nshare = {share}\nz = [\n  {told},\n]\n"


def other_throttle_rows(name: str) -> Iterable[str]:
    """Temperature behind the regulator of argon with O2 or helium."""
    for share in OTHER_SHARES[name]:
        rows = [[throttled(share, t, p, OTHERS[name]) for p in THROTTLE_BAR] for t in THROTTLE_C]
        told = ",\n  ".join(numbers(row, 1) for row in rows)
        yield f"[[composition]]\nshare = {share}\nafter_c = [\n  {told},\n]\n"


def other_tables() -> dict[str, tuple[str, Iterable[str]]]:
    """Tables of argon with O2 and with helium by name: their first lines and their rows."""
    told: dict[str, tuple[str, Iterable[str]]] = {}
    for name, gas in OTHERS.items():
        axes = {"t_c": DENSITY_C, "bar": DENSITY_BAR}
        top = head(f"Compressibility Z of argon with {gas.lower()}.", model=GERG, **axes)
        told[f"gases-density-{name}"] = (top, other_density_rows(name))
        axes = {"t_c": THROTTLE_C, "bar": THROTTLE_BAR}
        what = f"Temperature after throttling argon with {gas.lower()} to 4 bar at constant enthalpy."
        told[f"gases-throttle-{name}"] = (head(what, model=GERG, **axes), other_throttle_rows(name))
    return told


def numbers(values: Sequence[float], places: int) -> str:
    """Numbers as a TOML array."""
    return "[" + ", ".join("nan" if math.isnan(value) else f"{value:.{places}f}" for value in values) + "]"


def head(what: str, *, model: str = MODEL, **axes: Sequence[float]) -> str:
    """The first lines of a table: what it is, who made it, its axes."""
    lines = [f"# {what}", "# Made by tools/make_gas_tables.py; do not edit.", "", f'source = "{model}"']
    lines += [
        f"{name} = [{', '.join(f'{value:g}' if value != int(value) else f'{value:.1f}' for value in axis)}]"
        for name, axis in axes.items()
    ]
    return "\n".join([*lines, "", ""])


def main() -> None:
    """Write the tables."""
    tables = {
        "gases-phase": (head("Liquid and vapour of argon with CO2 side by side (CO2 as mole fraction)."), phase_rows()),
        "gases-density": (head("Compressibility Z of argon with CO2.", t_c=DENSITY_C, bar=DENSITY_BAR), density_rows()),
        "gases-sound": (head("Sound speed of argon with CO2 at 1.01325 bar.", t_c=SOUND_C), sound_rows()),
        "gases-throttle": (
            head("Temperature after throttling to 4 bar at constant enthalpy.", t_c=THROTTLE_C, bar=THROTTLE_BAR),
            throttle_rows(),
        ),
        **other_tables(),
    }
    for name, (top, rows) in tables.items():
        (DATA / f"{name}.toml").write_text(top + "\n".join(rows), encoding="utf-8")
        print(f"wrote {name}.toml")


if __name__ == "__main__":
    main()
