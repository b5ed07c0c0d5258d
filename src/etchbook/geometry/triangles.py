"""The largest isosceles triangle inside a fillet section."""

import numpy as np

from etchbook.geometry.lines import Points


def largest_isosceles_height(face: Points, leg_1: float, leg_2: float, joint_angle: float) -> float:
    """Height, from the corner, of the largest isosceles triangle inside a fillet.

    The equal sides lie along the two plate surface lines from the corner; the third
    side may touch the weld face but not cross it.

    Parameters
    ----------
    face : (n, 2)
        Weld face from toe 1 to toe 2, in the frame whose origin is the joint root
        and whose x axis is the surface line of member 1; member 2's surface line
        leaves the origin at `joint_angle`.
    leg_1, leg_2 : float
        Length available along each surface line, in the unit of `face`.
    joint_angle : float
        Angle between the two surface lines [rad].

    Returns
    -------
    float
        Height in the unit of `face`; 0 when nothing fits.

    Source: ISO 2553:2019, nominal throat thickness "a" (definition from memory).
    """
    half = joint_angle / 2
    bisector = np.array([np.cos(half), np.sin(half)])
    along = np.asarray(face, float) @ bisector
    angles = np.arctan2(face[:, 1], face[:, 0])
    inside = (angles >= -1e-9) & (angles <= joint_angle + 1e-9)
    # The third side stands square to the bisector at the height sought and reaches as far as the equal
    # sides do, so every point of the face between the two surface lines bounds the height.
    bound = along[inside].min() if inside.any() else np.inf
    by_legs = min(leg_1, leg_2) * np.cos(half)
    return float(max(0.0, min(bound, by_legs)))
