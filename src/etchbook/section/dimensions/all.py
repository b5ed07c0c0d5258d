"""All dimensions of a joint family."""

from collections.abc import Callable

from etchbook.section.dimensions import areas, fillet, flat, toes
from etchbook.section.shape import Shape
from etchbook.terms import Family, dimensions_of

Value = float | str
"""A number in pixels (px, px², °, bare), or the reason why there is none."""

FORMULAS: dict[str, Callable[[Shape], Value]] = {
    "thickness_1": flat.thickness_1,
    "thickness_2": flat.thickness_2,
    "leg_1": fillet.leg_1,
    "leg_2": fillet.leg_2,
    "nominal_throat": fillet.nominal_throat,
    "theoretical_throat": fillet.theoretical_throat,
    "throat": fillet.throat,
    "deep_throat": fillet.deep_throat,
    "convexity": fillet.convexity,
    "root_penetration": fillet.root_penetration,
    "missed_root": fillet.missed_root,
    "penetration_1": areas.penetration_1,
    "penetration_2": areas.penetration_2,
    "undercut_1": toes.undercut_1,
    "undercut_2": toes.undercut_2,
    "overlap_1": toes.overlap_1,
    "overlap_2": toes.overlap_2,
    "toe_angle_1": toes.toe_angle_1,
    "toe_angle_2": toes.toe_angle_2,
    "asymmetry": fillet.asymmetry,
    "weld_width": flat.weld_width,
    "excess_weld_metal": flat.excess_weld_metal,
    "root_width": flat.root_width,
    "excess_penetration": flat.excess_penetration,
    "root_concavity": flat.root_concavity,
    "misalignment": flat.misalignment,
    "incompletely_filled": flat.incompletely_filled,
    "haz_width_1": areas.haz_width_1,
    "haz_width_2": areas.haz_width_2,
    "haz_width_max": areas.haz_width_max,
    "weld_area": areas.weld_area,
    "deposited_area": areas.deposited_area,
    "fused_plate_area": areas.fused_plate_area,
    "dilution": areas.dilution,
    "depth_to_width": areas.depth_to_width,
    "pore_area_percent": areas.pore_area_percent,
}


def values(shape: Shape, family: Family) -> dict[str, Value]:
    """Every dimension of the family: a number in pixels, or the reason why there is none."""
    return {term.id: FORMULAS[term.id](shape) for term in dimensions_of(family)}
