"""What the search for indications looks at: the picture's grey, the regions, the members, the lines they lie by."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from scipy.spatial import cKDTree

from etchbook.geometry import resample
from etchbook.picture.sharpness import Edge
from etchbook.section.indications.faces import true_members
from etchbook.section.indications.members import Member, labels_at, members_of
from etchbook.section.records import HAZ, SURROUNDINGS, WELD, Outline, Regions
from etchbook.terms import Family

Array = NDArray[np.float64]
Map = NDArray[np.float32]
FAR = 1e6


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """Everything that is known before indications are looked for.

    Parameters
    ----------
    light : (h, w) grey, 0 to 1; rgb : the picture's own colours
    blur : standard deviation of the picture's sharpest edges [px]; u_blur : its standard uncertainty
    mm : px per mm, or what stands for it where there is no scale
    scaled : whether there is a scale; relative : its relative standard uncertainty
    edges : clear straight edges of the metal's rim
    fusion, haz : trees of the fusion line's and the HAZ edges' points, None where there are none
    """

    light: Map
    rgb: NDArray[np.uint16]
    blur: float
    u_blur: float
    mm: float
    scaled: bool
    relative: float
    family: Family
    outline: Outline
    regions: Regions
    members: tuple[Member, ...]
    fusion: cKDTree | None
    haz: cKDTree | None
    inside: NDArray[np.float32]
    edges: tuple[Edge, ...] = ()

    def label(self, points: Array) -> NDArray[np.uint8]:
        """Region of each place."""
        return labels_at(self.regions, points)

    def in_weld(self, points: Array) -> NDArray[np.bool_]:
        """Which places lie in the weld metal."""
        return np.asarray(self.label(points) == WELD)

    def in_haz(self, points: Array) -> NDArray[np.bool_]:
        """Which places lie in the HAZ."""
        return np.asarray(self.label(points) == HAZ)

    def from_fusion(self, points: Array) -> Array:
        """Distance from the fusion line, (n,) [px]."""
        return _away(self.fusion, points)

    def from_haz_edge(self, points: Array) -> Array:
        """Distance from the HAZ edge, (n,) [px]."""
        return _away(self.haz, points)

    def from_rim(self, points: Array) -> Array:
        """About how far inside the metal each place lies, (n,) [px]."""
        height, width = self.inside.shape
        column = np.clip(((points[:, 0] + 0.5) / self.regions.factor).astype(np.intp), 0, width - 1)
        row = np.clip(((points[:, 1] + 0.5) / self.regions.factor).astype(np.intp), 0, height - 1)
        return np.asarray(self.inside[row, column], float)

    def in_picture(self, points: Array, margin: float = 1.0) -> NDArray[np.bool_]:
        """Which places lie in the picture."""
        size = np.array([self.light.shape[1] - 1, self.light.shape[0] - 1])
        return np.asarray(((points >= margin) & (points <= size - margin)).all(axis=1))


def _away(tree: cKDTree | None, points: Array) -> Array:
    return np.full(len(points), FAR) if tree is None else np.asarray(tree.query(points, workers=1)[0])


def look_round(
    rgb: NDArray[np.uint16],
    light: Map,
    outline: Outline,
    regions: Regions,
    family: Family,
    *,
    blur: float,
    px_per_mm: float | None,
    relative: float,
    edges: tuple[Edge, ...] = (),
) -> Scene:
    """Put together what the search needs.

    Parameters
    ----------
    blur : standard deviation of the picture's sharpest edges [px]; edges : of the metal's rim
    px_per_mm : scale, None where there is none; relative : its relative standard uncertainty
    """
    members = true_members(
        members_of(outline, regions, family), outline, regions, edges, lapped=family == "lap"
    )  # fmt: skip
    metal = regions.labels != SURROUNDINGS
    inside = ndimage.distance_transform_edt(np.pad(metal, 1, mode="edge"))[1:-1, 1:-1] * regions.factor
    return Scene(
        light=light, rgb=rgb, blur=blur, u_blur=0.12 * blur,
        mm=px_per_mm or _stand_in(members, light), scaled=px_per_mm is not None, relative=relative, family=family,
        outline=outline, regions=regions, members=members,
        fusion=_tree(outline, "fusion_line"), haz=_tree(outline, "haz_edge"), inside=inside.astype(np.float32),
        edges=edges,
    )  # fmt: skip


def _stand_in(members: tuple[Member, ...], light: Map) -> float:
    """Where there is no scale, plates are taken to be some 8 mm thick, for choices only and never for a number."""
    thick = [member.thickness for member in members if member.thickness is not None]
    return float(np.median(thick)) / 8.0 if thick else max(light.shape) / 40.0


def _tree(outline: Outline, name: str) -> cKDTree | None:
    chains = [
        resample(part.points, 1.0)
        for key, part in outline.boundaries.items()
        if key.startswith(name) and len(part.points) > 1
    ]
    return cKDTree(np.concatenate(chains)) if chains else None
