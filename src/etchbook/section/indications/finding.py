"""Finding and describing every indication of a section."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np

from etchbook.picture import NoScale, Picture, Scale
from etchbook.picture.reduce import grey
from etchbook.picture.sharpness import edge_rise
from etchbook.quantity import Measured
from etchbook.section.indications.besides import beside_fusion
from etchbook.section.indications.blobs import blobs
from etchbook.section.indications.candidates import along_member, fresh, once
from etchbook.section.indications.describing import described
from etchbook.section.indications.elsewhere import elsewhere, without_scratches
from etchbook.section.indications.families import told
from etchbook.section.indications.kernels import rim_edges, usual_blur
from etchbook.section.indications.profiles import RISE
from etchbook.section.indications.ridges import ridges_of
from etchbook.section.indications.scene import Scene, look_round
from etchbook.section.indications.scratches import Population, nearest_angle, populations
from etchbook.section.indications.sieve import refused
from etchbook.section.records import Indication, Outline, Regions
from etchbook.terms import Family

USUAL_RISE = 3.0
"""10 to 90 % rise taken where the picture has no clear edge to measure it on [px]."""
SAME_DEPTH = 0.05


def find_indications(
    picture: Picture, outline: Outline, regions: Regions, family: Family, scale: Scale | NoScale
) -> tuple[Indication, ...]:
    """Every mark on the face that is not an edge of the joint, strongest first.

    Parameters
    ----------
    picture : the photo
    outline, regions : of its section
    scale : for lengths in mm; without one they are absent, shares and angles are not
    """
    if not outline.weld and not outline.lines:
        return ()
    scene = scene_of(picture, outline, regions, family, scale)
    with ThreadPoolExecutor(2) as hands:
        coming = [hands.submit(along_member, scene, member) for member in scene.members]
        ridges = ridges_of(scene)
    scratches = populations(scene, ridges)
    lines = once(
        [without_scratches([one for one in each.result() if not refused(scene, one)], scratches) for each in coming]
    )
    seams = fresh(beside_fusion(scene), [one for member in lines for one in member])
    known = [one.trace for member in [*lines, seams] for one in member]
    found = [one for member in lines for one in told(scene, member)]
    found += [described(scene, one) for one in seams]
    found += [described(scene, one) for one in elsewhere(scene, ridges, scratches, known)]
    return _named([*_matched([_against(one, scratches) for one in found]), *_unnamed(blobs(scene))])


def _unnamed(found: list[Indication]) -> list[Indication]:
    return [replace(one, name=f"o{place}") for place, one in enumerate(found)]


def _against(one: Indication, scratches: tuple[Population, ...]) -> Indication:
    """The same, told its angle to the nearest population of scratches."""
    way = one.points[-1] - one.points[0]
    angle = nearest_angle(scratches, way)
    return replace(one, meets=replace(one.meets, scratch_angle=angle))


def scene_of(picture: Picture, outline: Outline, regions: Regions, family: Family, scale: Scale | NoScale) -> Scene:
    """What the search looks at."""
    edges = rim_edges(picture, regions)
    blur = usual_blur(edges) or (edge_rise(picture) or USUAL_RISE) / RISE
    blur = float(np.clip(blur, 0.45, 6.0))
    scaled = isinstance(scale, Scale)
    return look_round(
        picture.rgb, grey(picture.rgb), outline, regions, family, blur=blur,
        px_per_mm=scale.px_per_mm if isinstance(scale, Scale) else None,
        relative=scale.relative if scaled and isinstance(scale, Scale) else 0.0, edges=tuple(edges),
    )  # fmt: skip


def _named(found: list[Indication]) -> tuple[Indication, ...]:
    names = {one.name: letters(place) for place, one in enumerate(found)}
    return tuple(
        replace(one, name=names[one.name], meets=replace(one.meets, match=names.get(one.meets.match, "")))
        for one in found
    )


def letters(place: int) -> str:
    """a, b, ... z, aa, ab ..."""
    return (letters(place // 26 - 1) if place >= 26 else "") + chr(ord("a") + place % 26)


def _matched(found: list[Indication]) -> list[Indication]:
    """Strongest first, each told its match in the other member."""
    found = sorted(found, key=lambda one: -one.strength)
    numbered = [replace(one, name=f"#{place}") for place, one in enumerate(found)]
    return [replace(one, meets=replace(one.meets, match=_match(one, numbered))) for one in numbered]


def _match(one: Indication, every: list[Indication]) -> str:
    if not isinstance(one.depth_fraction, Measured) or not one.where.startswith("member"):
        return ""
    own = one.depth_fraction.value
    for other in every:
        if other.where == one.where or not other.where.startswith("member"):
            continue
        if isinstance(other.depth_fraction, Measured):
            there = other.depth_fraction.value
            if min(abs(own - there), abs(own - (1 - there))) < SAME_DEPTH:
                return other.name
    return ""
