"""What would be answered of a thing: by the picture, and by a person who looks, polishes, etches and tests."""

from collections.abc import Mapping

import numpy as np

from benchmarks.cause_cases import ECHO_MM, SEEN_GAP, WET_GAP, WRONG, Rng, Thing
from etchbook.evidence import Table


def picture_answers(thing: Thing, rng: Rng) -> dict[str, str]:
    """What the picture tells: place, direction, looks, what it meets; each as far as it can be measured."""
    told = {"along_scratches": _yes(thing.along_scratches)}
    # The reader knows where plates of the joint lie on each other; backing bars and the like it cannot know.
    told |= {"faying_surface": "yes"} if thing.parts_meet and rng.random() < 0.7 else {}
    if thing.place == "weld":
        told |= {"mid_bead": _yes(thing.mid_bead), "deep_bead": _yes(thing.deep_bead)}
    else:
        told |= {"parallel": _yes(abs(thing.angle + rng.normal(0, 0.3)) <= 2)}
        told |= {"many_lines": "yes"} if thing.many else {}
        told |= {"depth": _depth(thing.depth + rng.normal(0, 0.005))}
        told |= {"members": "both_matching"} if thing.both else {}
        alone = not thing.both and not thing.parts_meet and thing.place == "plate"
        told |= {"members": "one_only"} if alone else {}
        told |= {"to_fusion_line": thing.meets} if thing.meets != "nothing" else {}
    if thing.length > 10 and thing.dashes == 1:
        told["continuous"] = "yes"
    if thing.width < 10 and thing.dashes >= 3:
        told["thin_dashed"] = "yes"
    if thing.black >= 0.5 and thing.soft <= 1.3:
        told["edges"] = "sharp_black"
    elif thing.soft >= 2 and 20 <= thing.width <= 300:
        told["edges"] = "wide_soft"
    return told


def person_answers(thing: Thing, rng: Rng) -> dict[str, str]:
    """What a person would find who does everything on the ladder and knows the piece's history."""
    open_gap, wet = thing.gap >= SEEN_GAP, thing.gap >= WET_GAP and not thing.surface
    told = {
        "filler": _yes(thing.filled and (open_gap or thing.grey_dashes)),
        "weeps": _yes(wet and rng.random() < 0.85),
        "flips_with_light": _yes(thing.groove),
        "halo": _yes(thing.halo),
        "hardness": _yes(thing.harder + rng.normal(0, 3) >= 10),
        "segregation_etch": _yes(thing.phosphorus),
        "penetrant": _yes(wet and rng.random() < 0.85),
        "splits": _yes(open_gap and thing.length > ECHO_MM and thing.oxidised),
        "light_rim": _yes(thing.rim),
        "second_section": _yes(thing.goes_on),
        "faying_surface": _yes(thing.parts_meet),
        "steel_made": "ingot" if thing.ingot else "continuous",
    }
    told |= {"terraces": _yes(thing.steps), "many_lines": _yes(thing.many)} if thing.place != "weld" else {}
    told |= {"opens_at_fusion": "yes"} if thing.mouth else {}
    told |= {"came_late": _yes(thing.late)} if thing.place == "haz" else {}
    told |= _polished(thing, open_gap)
    if thing.place != "weld":
        flat = thing.gap >= 1.0 and abs(thing.angle) < 10 and thing.length > ECHO_MM
        told["ultrasonic"] = "echo" if flat and rng.random() < 0.9 else "clean"
    return told


def _polished(thing: Thing, open_gap: bool) -> dict[str, str]:
    """The look before etching, and what polishing again does."""
    if thing.surface:
        return {"after_repolish": "gone"}
    if open_gap:
        return {"unetched_look": "opening"}
    looks = {"unetched_look": "grey_dashes" if thing.grey_dashes else "nothing"}
    return looks | ({"after_repolish": "came_back"} if thing.etched_only or thing.gap > 0 else {})


def with_slips(told: Mapping[str, str], table: Table, rng: Rng) -> dict[str, str]:
    """The answers with one in twenty replaced by another answer to the same question."""
    slipped = dict(told)
    for name, state in told.items():
        others = [other.id for other in table.observation(name).states if other.id != state]
        if others and rng.random() < WRONG:
            slipped[name] = str(rng.choice(np.array(others)))
    return slipped


def _yes(there: bool) -> str:
    return "yes" if there else "no"


def _depth(depth: float) -> str:
    if 0.45 <= depth <= 0.55:
        return "middle"
    return "near_face" if min(depth, 1 - depth) < 0.15 else "between"
