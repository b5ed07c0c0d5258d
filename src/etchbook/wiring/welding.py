"""The welding arithmetic for people who write Python: ``etchbook.weld``, ``etchbook.heat``."""

from collections.abc import Mapping, Sequence
from typing import Any

from etchbook.procedure import ProcedureFigures, Settings, composition
from etchbook.procedure.records import numbered
from etchbook.usecases import RefusedError, reckoning
from etchbook.usecases.reckoning_words import material_named, process_named
from etchbook.usecases.words import family_named

UNITS = {
    "volts": "V",
    "amps": "A",
    "power": "W",
    "energy": "J",
    "wire_feed": "m/min",
    "wire_diameter": "mm",
    "travel": "mm/s",
    "bead_length": "mm",
    "arc_time": "s",
    "stick_out": "mm",
    "co2": "%",
    "gas_flow": "L/min",
    "nozzle": "mm",
    "thickness_1": "mm",
    "thickness_2": "mm",
    "throat": "mm",
    "plate_length": "mm",
    "plate_width": "mm",
    "start_temperature": "°C",
    "interpass_temperature": "°C",
    "ambient": "°C",
    "loss": "W/m²/K",
    "hydrogen": "ml/100 g",
    "cable_length": "m",
    "cable_area": "mm²",
}
"""Unit of every setting that is a number."""

_TAKEN_BARE = frozenset({"loss", "hydrogen"})
"""The trade has one unit for these, and the unit library has no word for it."""


def settings_from(said: Mapping[str, Any]) -> Settings:
    """Settings from what was typed or passed: words with their unit, or plain numbers in the unit of `UNITS`.

    Parameters
    ----------
    said : by name of the setting; None and "" where nothing was said; ``steel`` holds a composition as text

    Returns
    -------
    Settings
        RefusedError with one sentence for what is no amount, no joint, no composition.
    """
    numbers: dict[str, float] = {}
    spread: dict[str, float] = {}
    for name in numbered():
        value = said.get(name)
        if value is None or value == "":
            continue
        numbers[name], u = _amount(name, value)
        if u is not None:
            spread[name] = u
    unknown = set(said) - set(numbered()) - {"process", "material", "joint", "steel", "composition", "u"}
    if unknown:
        raise RefusedError(f"{sorted(unknown)[0]} is no setting; settings are {', '.join(numbered())}")
    steel = composition(said["steel"]) if said.get("steel") else dict(said.get("composition") or {})
    return Settings(
        process=process_named(said.get("process") or ""),
        material=_material(said.get("material") or ""),
        joint=family_named(said["joint"]) if said.get("joint") else None,
        composition=steel,
        u=spread | dict(said.get("u") or {}),
        **numbers,
    )


def typed_of(settings: Settings) -> dict[str, str]:
    """Settings as a person would type them, each with its unit and its ± where it is known: `settings_from` turned
    round, for a form that is to be filled in with a bead's."""
    told = {name: _typed(name, getattr(settings, name), settings.u.get(name)) for name in numbered()}
    words = {"process": settings.process, "material": settings.material, "joint": settings.joint or ""}
    steel = " ".join(f"{element}={share:g}" for element, share in settings.composition.items())
    return {name: text for name, text in {**told, **words, "steel": steel}.items() if text}


def _typed(name: str, value: float | None, u: float | None) -> str:
    if value is None:
        return ""
    return f"{value:.6g}{f'±{u:.2g}' if u else ''} {'' if name in _TAKEN_BARE else UNITS[name]}".strip()


def point_from(text: str) -> tuple[float, float]:
    """``5,0`` as a point of the section: across from the centreline and below the surface [mm]."""
    try:
        across, depth = (float(part) for part in text.replace("mm", "").split(","))
    except ValueError:
        raise RefusedError(f'"{text}" is no point: write across and depth in mm, like 5,0') from None
    return across, depth


def _amount(name: str, value: Any) -> tuple[float, float | None]:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value), None
    if not isinstance(value, str):
        raise RefusedError(f"{name} must be a number in {UNITS[name]} or words with a unit, not {value!r}")
    from etchbook.wiring.units import amount  # the unit library is slow to load

    unit = "" if name in _TAKEN_BARE else UNITS[name]
    typed = value.strip().removesuffix(UNITS[name]) if name in _TAKEN_BARE else value
    found = amount(typed, unit, name.replace("_", " "))
    return found.value, found.u


def _material(word: str) -> str:
    if not word:
        return ""
    found = material_named(word)
    if not found:
        raise RefusedError(
            f'"{word}" is no material that is known here: use carbon steel, stainless steel or aluminium'
        )
    return found


def weld(settings: Settings | None = None, *, conduction: bool = True, **said: Any) -> ProcedureFigures:
    """Everything that a bead's settings come to: heat input, cooling, deposit, expected shape, steel, gas.

    Parameters
    ----------
    settings : a `Settings`; or leave it out and name the settings
    conduction : whether to reckon the heat flow in the coupon as well
    said : settings by name, plain numbers in the unit of `Settings`, or words: ``volts=18.5, wire_feed="5.6m/min"``,
        ``travel="30±1 cm/min"``; ``steel="C 0.18 Mn 1.4 rest=0"`` for the composition

    Returns
    -------
    ProcedureFigures
        ``etchbook.weld(...)["heat_input"].quantity`` is Measured(value, u, unit) or Absent(reason).
    """
    return reckoning.weld(settings or settings_from(said), conduction=conduction)


def heat(
    settings: Settings | None = None,
    *,
    points: Sequence[tuple[float, float]] = (),
    beads: int = 1,
    cycle: float | None = None,
    **said: Any,
) -> reckoning.HeatAnswer:
    """Heat flow of a bead in its coupon, by conduction: fused width, depth, area, HAZ, t8/5, what changes would do.

    Parameters
    ----------
    settings, said : as for `weld`
    points : (across, depth) [mm] of points whose temperature over time is wanted
    beads, cycle : how many beads on the coupon, and the time from one start to the next [s]
    """
    return reckoning.heat(settings or settings_from(said), points=points, beads=beads, cycle=cycle)


def heat_pages(answer: reckoning.HeatAnswer) -> dict[str, str]:
    """The drawings of a heat flow as SVG, by name: plan, section, and history where points were asked for."""
    from etchbook.report.heatplots import history_svg, plan_svg, section_svg

    pages = {"plan": plan_svg(answer.coupon, answer.plan), "section": section_svg(answer.coupon, answer.section)}
    return pages | ({"history": history_svg(answer.coupon, answer.histories)} if answer.histories else {})


def section_read(path: str) -> Any:
    """A reading kept as JSON."""
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.press import ReportPress

    return ReportPress().reading(FilesDesk().text(path))


def keep(pages: Mapping[str, bytes]) -> None:
    """Write all of these files whole, or none."""
    from etchbook.wiring.desk import FilesDesk

    FilesDesk().keep(pages)
