"""Where the outline should be looked at before its numbers are used."""

from collections.abc import Mapping

import numpy as np
from scipy import ndimage

from etchbook.geometry import arc_length, area
from etchbook.quantity import Absent, Quantity
from etchbook.section.draft import Draft
from etchbook.section.edges import Trace
from etchbook.section.records import Doubt

UNCLEAR = 3.0
"""A profile whose step stands less than this many noise widths high is a guess (Rose criterion, common practice)."""

STANDS_OUT = 0.4
"""A boundary of which less than this share stands out from the grain carries no dimension.

Planning value: of 80 simulated sections (difficulty any, tuning seeds from 100) a face that was right fell below it
once and a fusion line eight times; photographs of gravel, brick, coins and grass stayed below it for the face.
"""

REMEDY = "look at the overlay there; if it is wrong, set a few marks on the true boundary and read again"

LEANS_ON = {
    "fusion_line": (
        "root_penetration",
        "missed_root",
        "deep_throat",
        "penetration_1",
        "penetration_2",
        "weld_area",
        "fused_plate_area",
        "deposited_area",
        "dilution",
        "depth_to_width",
        "haz_width_1",
        "haz_width_2",
        "haz_width_max",
        "pore_area_percent",
    ),
    "haz_edge_1": ("haz_width_1", "haz_width_max"),
    "haz_edge_2": ("haz_width_2", "haz_width_max"),
}

ON_THE_EDGE = (
    "leg_1",
    "asymmetry",
    "nominal_throat",
    "theoretical_throat",
    "throat",
    "deep_throat",
    "root_penetration",
    "missed_root",
    "penetration_2",
    "deposited_area",
    "fused_plate_area",
    "dilution",
)
NO_FACE = "hardly any of the weld face stands out from its surroundings, so this may be no weld"
MELTED_EDGE = (
    "the welded edge of the upper plate does not show in this section, so the joint root cannot be placed; "
    "mark joint_root, or two points of that edge as surface_2, where you know it stood"
)


def confidence(trace: Trace) -> float:
    """Share of a boundary that stands out clearly, 0 to 1."""
    return float(np.mean(trace.clarity > UNCLEAR))


def unclear(trace: Trace) -> tuple[tuple[int, int], ...]:
    """Stretches of a boundary most of which does not stand out, as (start, stop) of its points."""
    least = max(5, len(trace.clarity) // 16)
    low = ndimage.uniform_filter1d((trace.clarity <= UNCLEAR).astype(float), least, mode="nearest") > 0.5
    turns = np.flatnonzero(np.diff(np.concatenate([[False], low, [False]]).astype(int)))
    return tuple((int(start), int(stop)) for start, stop in turns.reshape(-1, 2) if stop - start >= least)


def doubts_of(draft: Draft) -> tuple[Doubt, ...]:
    """What the reader itself doubts, in plain words."""
    found = [*_faint(draft), *_lost(draft)]
    found += [Doubt(part=part, reason=reason, remedy=REMEDY) for part, reason in draft.flaws]
    if empty(draft):
        found.append(Doubt(part="weld metal", reason="weld face and fusion line nearly coincide", remedy=REMEDY))
    if no_face(draft):
        found.append(Doubt(part="weld metal", reason=NO_FACE, remedy=REMEDY))
    elif draft.sharpness < 0.75 and not draft.pinned:
        found.append(
            Doubt(
                part="weld metal",
                reason="the parts of this picture could not be told apart with certainty",
                remedy=REMEDY,
            )
        )
    return tuple(found)


def no_face(draft: Draft) -> bool:
    """Whether hardly any of the weld face stands out, as the edge of metal against the surroundings does."""
    return confidence(draft.face) < STANDS_OUT and not draft.pinned


def edge_unseen(draft: Draft) -> bool:
    """Whether the welded edge of a lap joint was melted away, so that the joint root is a guess."""
    marked = draft.root_pin is not None or any(name.startswith("surface_2") for name in draft.pinned)
    return draft.family == "lap" and "beside_2" not in draft.rims and not marked


def empty(draft: Draft) -> bool:
    """Whether the outline encloses next to nothing, which no weld does."""
    ring = np.concatenate([draft.face.points, draft.fusion.points[::-1]])
    chord = float(np.hypot(*(draft.toes[1].point - draft.toes[0].point)))
    return area(ring) < 0.04 * chord**2


def _faint(draft: Draft) -> list[Doubt]:
    parts = [("weld face", draft.face), ("fusion line", draft.fusion)]
    parts += [(f"HAZ edge in member {member}", trace) for member, trace in draft.haz.items()]
    return [
        Doubt(
            part=name,
            reason=f"only {confidence(trace):.0%} of the {name} stands out clearly from the grain",
            remedy=REMEDY,
        )
        for name, trace in parts
        if confidence(trace) < 0.6
    ]


def _lost(draft: Draft) -> list[Doubt]:
    """Plate surfaces that were not found, and boundaries far too short to be whole."""
    lost = []
    needed = ("surface_1",) if draft.family == "bead" else ("surface_1", "surface_2")
    for name in needed:
        if name not in draft.lines:
            member = name[-1]
            lost.append(
                Doubt(
                    part=f"plate surface of member {member}",
                    reason=f"no straight plate surface was found beside toe {member}",
                    remedy=f"mark two or more points of it as surface_{member}",
                )
            )
    if arc_length(draft.fusion.points)[-1] < 0.5 * arc_length(draft.face.points)[-1]:
        lost.append(Doubt(part="fusion line", reason="the fusion line is too short to be whole", remedy=REMEDY))
    return lost


def withheld(draft: Draft, dimensions: Mapping[str, Quantity]) -> dict[str, Quantity]:
    """The dimensions, less those that would rest on a boundary that is hardly there."""
    if empty(draft):
        return {
            name: Absent(reason="the outline found is no weld: its face and its fusion line nearly coincide")
            for name in dimensions
        }
    if no_face(draft):
        return {name: Absent(reason=f"{NO_FACE}; mark the weld face if there is one") for name in dimensions}
    kept = dict(dimensions)
    if edge_unseen(draft):
        kept |= {name: Absent(reason=MELTED_EDGE) for name in ON_THE_EDGE if name in kept}
    parts = {"fusion_line": draft.fusion} | {f"haz_edge_{m}": t for m, t in draft.haz.items()}
    for part, trace in parts.items():
        held = any(name.startswith(part) for name in draft.pinned)
        if confidence(trace) >= STANDS_OUT or held:
            continue
        words = part.replace("_", " ").replace("haz", "HAZ")
        for name in LEANS_ON[part]:
            if name in kept:
                kept[name] = Absent(reason=f"the {words} does not stand out from the grain; pin it with a few marks")
    return kept
