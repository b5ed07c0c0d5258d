"""The ground: plane geometry. Coordinates are (x, y); the unit is the caller's, the same throughout a call."""

from etchbook.geometry.fits import LineFit, fit_line
from etchbook.geometry.lines import Line, angle_between, crossing
from etchbook.geometry.polygons import area, clip_half_plane, contains, rasterise
from etchbook.geometry.polylines import (
    arc_length,
    distances_to_polyline,
    hausdorff_mean,
    normals,
    ray_crossings,
    resample,
)
from etchbook.geometry.triangles import largest_isosceles_height

__all__ = [
    "Line",
    "LineFit",
    "angle_between",
    "arc_length",
    "area",
    "clip_half_plane",
    "contains",
    "crossing",
    "distances_to_polyline",
    "fit_line",
    "hausdorff_mean",
    "largest_isosceles_height",
    "normals",
    "rasterise",
    "ray_crossings",
    "resample",
]
