"""The sheet: everything that one bead's settings come to."""

from collections.abc import Mapping

from etchbook.procedure.deriving import Derived
from etchbook.procedure.entered import FORMULAS
from etchbook.procedure.formulas import Known, Traced, figure, inputs_of, noted, reckon
from etchbook.procedure.heat_flow import CONDUCTION
from etchbook.procedure.records import Figure, ProcedureFigures, Settings
from etchbook.quantity import Absent

FILLETS = ("tee", "lap")
HEAT_SHARE = {"bead": 1.0, "tee": 2 / 3}
"""Share of the heat that would go into a bead on plate: three ways out of the weld instead of two."""


def procedure_figures(settings: Settings, *, conduction: bool = True) -> ProcedureFigures:
    """Everything that a bead's settings come to: energy, cooling, deposit, expected shape, steel, gas, heat flow.

    Parameters
    ----------
    settings : what was set, read and seen; anything may be missing
    conduction : whether to reckon the heat flow in the coupon as well, which takes about a second

    Returns
    -------
    ProcedureFigures
        Each figure has a value with u, or the reason why it has none; u covers the uncertainties stated in
        `settings.u`, those of tabled constants, and each formula's own scatter. Shared inputs are not counted
        as independent. What lies outside a formula's range is said in its notes.
    """
    sheet = known_figures(settings, conduction=conduction)
    made = {name: _as_figure(name, known, settings) for name, known in sheet.items()}
    return ProcedureFigures(figures=made)


def known_figures(settings: Settings, *, conduction: bool = True) -> Mapping[str, Known]:
    """The same numbers with the parts of their uncertainty, by name; for comparing them with a section."""
    at = Derived(settings)
    sheet = _energy(at)
    sheet |= _cooling(at, sheet)
    sheet |= _steel(at, sheet)
    sheet |= _deposit(at)
    sheet |= _arc(at)
    sheet |= _thumbs(at)
    if conduction:
        sheet |= _conducted(at, sheet)
    return sheet


def _energy(at: Derived) -> dict[str, Known]:
    sheet: dict[str, Known] = {"travel_speed": at.travel}
    sheet["arc_energy"] = reckon("arc_energy", volts=at.given("volts"), amps=at.amps, travel=at.travel)
    sheet["power_energy"] = reckon("power_energy", power=at.given("power", "instantaneous power"), travel=at.travel)
    sheet["summed_energy"] = reckon(
        "summed_energy", energy=at.given("energy", "instantaneous energy"), bead_length=at.given("bead_length")
    )
    sheet["heat_input"] = reckon("heat_input", arc_energy=best_energy(sheet), k=at.k)
    sheet["heat_rate"] = reckon("heat_rate", heat_input=sheet["heat_input"], travel=at.travel)
    return sheet


def best_energy(sheet: Mapping[str, Known]) -> Known:
    """The arc energy to go on with: instantaneous where there is one, else from the means."""
    for name, words in (("summed_energy", "energy"), ("power_energy", "power")):
        found = sheet[name]
        if isinstance(found, Traced):
            return noted(found, f"from the instantaneous {words}")
    return sheet["arc_energy"]


def _cooling(at: Derived, sheet: Mapping[str, Known]) -> dict[str, Known]:
    heat, start, plate = sheet["heat_input"], at.start, at.thickness
    two, three = at.factor("factor_2"), at.factor("factor_3")
    return {
        "t85_thin": reckon("t85_thin", heat_input=heat, thickness=plate, start=start, factor_2=two),
        "t85_thick": reckon("t85_thick", heat_input=heat, start=start, factor_3=three),
        "transition_thickness": reckon("transition_thickness", heat_input=heat, start=start),
        "cooling_time": reckon(
            "cooling_time", heat_input=heat, thickness=plate, start=start, factor_2=two, factor_3=three
        ),
    }


def _steel(at: Derived, sheet: Mapping[str, Known]) -> dict[str, Known]:
    found: dict[str, Known] = {}
    for name in ("ce_iiw", "cet", "pcm"):
        found[name] = reckon(name, **at.elements(inputs_of(FORMULAS[name])))
    preheat = {
        "cet": found["cet"],
        "thickness": at.thicker,
        "hydrogen": at.given("hydrogen", "diffusible hydrogen of the consumable"),
        "heat_input": sheet["heat_input"],
    }
    found |= {name: _needless(reckon(name, **preheat)) for name in ("preheat_b", "preheat_b_older")}
    for name in ("haz_hardness_duren", "haz_hardness_yurioka", "haz_hardness_beckert", "martensite_hardness"):
        inputs = inputs_of(FORMULAS[name])
        content = at.elements(tuple(one for one in inputs if one != "t85"))
        found[name] = reckon(name, **content, **({"t85": sheet["cooling_time"]} if "t85" in inputs else {}))
    return found


def _needless(preheat: Known) -> Known:
    if isinstance(preheat, Traced) and preheat.value < 20:
        return noted(preheat, "a preheat below 20 °C means that this method asks for none")
    return preheat


def _deposit(at: Derived) -> dict[str, Known]:
    feed, density = at.given("wire_feed"), at.property("density")
    hollow = at.process.get("hollow", False)
    wire: Known = (
        Absent(reason="a cored wire is not solid: its metal section is not its outline") if hollow else at.wire
    )
    area = reckon("deposited_area", feed=feed, wire=wire, travel=at.travel, efficiency=at.efficiency)
    rate = reckon("deposition_rate", feed=feed, wire=wire, density=density, efficiency=at.efficiency)
    sheet: dict[str, Known] = {"deposition_rate": rate, "deposited_area": area}
    sheet["weld_mass"] = reckon("weld_mass", area=area, density=density)
    family = at.settings.joint
    fillet = area if family in FILLETS else Absent(reason=_no_fillet(family))
    sheet["fillet_leg"] = reckon("fillet_leg", area=fillet)
    sheet["fillet_throat"] = reckon("fillet_throat", area=fillet)
    if family in FILLETS and at.settings.throat is not None:
        asked = noted(at.given("throat"), f"a throat of {at.settings.throat:g} mm is taken as a leg √2 times as long")
        sheet["overweld"] = reckon("overweld", leg=sheet["fillet_throat"], leg_asked=asked)
        leg = (
            noted(_scaled(asked, 2**0.5), "at the legs that this throat asks for")
            if isinstance(asked, Traced)
            else asked
        )
        sheet["fillet_convexity"] = reckon("fillet_convexity", area=fillet, leg=leg)
    return sheet


def _no_fillet(family: str | None) -> str:
    return "joint is not stated" if family is None else f"a {family} has no fillet"


def _arc(at: Derived) -> dict[str, Known]:
    amps, out = at.amps, at.given("stick_out")
    sheet = {"amps_from_feed": at.melting_amps}
    refused = at.solid_steel_wire
    wire: Known = Absent(reason=refused) if refused else at.wire
    sheet["feed_from_amps"] = reckon("feed_from_amps", amps=at.given("amps"), wire=wire, stick_out=out)
    sheet["stick_out_from_amps"] = reckon(
        "stick_out_from_amps", amps=at.given("amps"), feed=at.given("wire_feed"), wire=wire
    )
    sheet["stick_out_drop"] = reckon("stick_out_drop", amps=amps, stick_out=out, wire=wire)
    cable = {name: at.given(name) for name in ("cable_length", "cable_area")}
    sheet["cable_drop"] = reckon("cable_drop", amps=amps, **cable)
    flow, bore = at.given("gas_flow"), at.given("nozzle", "nozzle bore")
    sheet["nozzle_reynolds"] = _flagged(
        reckon("nozzle_reynolds", flow=flow, nozzle=bore, co2=at.given("co2", "the CO2 in the shielding gas"))
    )
    sheet["nozzle_speed"] = reckon("nozzle_speed", flow=flow, nozzle=bore)
    return sheet


def _flagged(reynolds: Known) -> Known:
    if isinstance(reynolds, Traced) and reynolds.value > 2300:
        return noted(reynolds, "above 2300 the flow may be turbulent and draw in air: a larger nozzle or less gas")
    return reynolds


def _thumbs(at: Derived) -> dict[str, Known]:
    sheet = {
        "thumb_amps": reckon("thumb_amps", thickness=at.thickness),
        "thumb_feed": reckon("thumb_feed", amps=at.amps, wire=at.wire),
        "thumb_flow": reckon("thumb_flow", wire=at.wire),
        "thumb_leg": reckon("thumb_leg", wire=at.wire),
    }
    return {name: noted(known, "common practice: a place to start from") for name, known in sheet.items()}


def _conducted(at: Derived, sheet: Mapping[str, Known]) -> dict[str, Known]:
    plate = conduction_inputs(at, sheet)
    found: dict[str, Known] = {}
    for name in ("fused_width", "fused_depth", "fused_area", "conducted_haz_width", "conducted_t85"):
        found[name] = noted(reckon(name, **plate), *_conduction_notes(at))
    if at.settings.joint == "tee" and isinstance(found["fused_area"], Traced):
        # The same heat field turned through 270° of plate instead of 180°.
        found["fused_area"] = _scaled(found["fused_area"], 1.5)
    found["dilution"] = reckon("dilution", area=sheet["deposited_area"], fused=found["fused_area"])
    other = "joint is not stated" if at.settings.joint is None else "this is no bead on plate"
    width = found["fused_width"] if at.settings.joint == "bead" else Absent(reason=other)
    found["bead_height"] = reckon("bead_height", area=sheet["deposited_area"], weld_width=width)
    inputs = {key: plate[key] for key in ("plate_length", "plate_width", "bead_length", "thickness", "capacity")}
    found["bead_warming"] = reckon("bead_warming", heat_input=sheet["heat_input"], **inputs)
    return found


def conduction_inputs(at: Derived, sheet: Mapping[str, Known]) -> dict[str, Known]:
    """What the conduction model takes, by name, with the joint's share of the heat."""
    family = at.settings.joint
    power = sheet["heat_rate"]
    if family not in HEAT_SHARE:
        power = Absent(
            reason="joint is not stated"
            if family is None
            else f"heat flow is reckoned for beads on plate and T-joints, not for a {family} joint"
        )
    elif isinstance(power, Traced):
        share = HEAT_SHARE[family]
        power = _scaled(power, share)
    loss = at.given("loss")
    plate: dict[str, Known] = {"power": power, "travel": at.travel, "thickness": at.thickness}
    plate["start"] = at.start
    plate |= {name: at.property(name) for name in ("conductivity", "capacity", "melting")}
    edge = at.property("haz_edge")
    plate["haz_edge"] = edge if isinstance(edge, Traced) or not at.metal else Traced(value=float("nan"))
    plate |= {name: at.given(name) for name in ("plate_length", "plate_width", "bead_length")}
    plate["loss"] = loss if isinstance(loss, Traced) else Traced(value=0.0)
    return plate


def _scaled(known: Traced, share: float) -> Traced:
    parts = {key: share * one for key, one in known.parts.items()}
    return Traced(value=share * known.value, parts=parts, notes=known.notes)


def _conduction_notes(at: Derived) -> tuple[str, ...]:
    notes = [CONDUCTION, "the bead is taken to lie in the middle of the plate"]
    if at.settings.joint == "tee":
        notes.append("a T-joint is taken as a bead on plate with two thirds of the heat")
    if at.settings.loss is None:
        notes.append("heat lost at the surface is not stated and left out")
    return tuple(notes)


def _as_figure(name: str, known: Known, settings: Settings) -> Figure:
    label = ""
    if name == "overweld":
        label = "weld metal laid down over weld metal asked for"
    exact = not settings.u and isinstance(known, Traced) and not known.parts
    notes = ("the settings are taken as exact: state their uncertainty to get one here",) if exact else ()
    return figure(name, known, label=label, notes=notes)
