"""A reading made by hand: a tee fillet of simple geometry, 40 px/mm, with a grey picture to match.

Every length is known from the drawing below, so the tests' expected values come from here and not from the program.
Origin of the millimetre frame: the joint root; x along member 1, y up along member 2.
"""

import numpy as np

from etchbook.acceptance.records import Finding, Judgement, Limit, Verdict
from etchbook.geometry import Line, LineFit, area, rasterise
from etchbook.joint import Joint
from etchbook.picture import NoScale, Picture, Scale
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section import Boundary, Doubt, Landmark, Mark, Outline, PictureFacts, Preparation, Reading, Regions
from etchbook.terms import dimensions_of

PX = 40.0
ROOT = np.array([420.0, 430.0])
SIZE = (1000, 800)
LEG_1, LEG_2, PLATE_1, PLATE_2 = 6.2, 5.6, 8.0, 6.0
HOSTILE = '<script>alert("x")</script> & #include("/etc/passwd") $x$ \x07'


def px(points: object) -> np.ndarray:
    """Millimetres in the joint's frame to pixels."""
    return ROOT + np.asarray(points, float) * [PX, -PX]


def _curve(points: list[tuple[float, float]], count: int = 60) -> np.ndarray:
    """A smooth chain through a few points (Catmull-Rom by cubic interpolation of each coordinate)."""
    from scipy.interpolate import CubicSpline

    given = np.asarray(points, float)
    run = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(given, axis=0).T))])
    return CubicSpline(run, given)(np.linspace(0, run[-1], count))


def chains() -> dict[str, np.ndarray]:
    """Every boundary in millimetres."""
    half = LEG_1 / 2 + 0.42, LEG_2 / 2 + 0.42
    fusion_1 = _curve([(-0.55, -0.55), (0.8, -1.05), (2.4, -1.3), (4.4, -0.9), (LEG_1, 0.0)])
    fusion_2 = _curve([(-0.55, -0.55), (-0.95, 0.9), (-1.05, 2.4), (-0.7, 4.2), (0.0, LEG_2)])
    edge_1 = _curve([(-1.9, -1.9), (0.6, -2.6), (2.6, -2.85), (5.0, -2.2), (LEG_1 + 1.6, 0.0)])
    edge_2 = _curve([(-1.9, 0.2), (-2.4, 1.6), (-2.45, 3.0), (-1.8, 5.2), (0.0, LEG_2 + 1.5)])
    return {
        "weld_face": _curve(
            [(LEG_1, 0.0), (half[0] + 1.3, half[1] - 1.5), half, (half[0] - 1.6, half[1] + 1.25), (0.0, LEG_2)]
        ),
        "fusion_line_1": fusion_1,
        "fusion_line_2": fusion_2,
        "haz_edge_1": edge_1,
        "haz_edge_2": edge_2,
        "surface_1": np.array([(LEG_1, 0.0), (9.0, 0.0), (14.4, 0.0)]),
        "surface_2": np.array([(0.0, LEG_2), (0.0, 8.0), (0.0, 10.6)]),
        "back_1": np.array([(-10.4, -PLATE_1), (0.0, -PLATE_1), (14.4, -PLATE_1)]),
        "back_2": np.array([(-PLATE_2, 0.0), (-PLATE_2, 5.0), (-PLATE_2, 10.6)]),
    }


def _boundary(name: str, points: np.ndarray) -> Boundary:
    doubtful = name == "haz_edge_2"
    return Boundary(
        name=name,
        points=px(points),
        sd=np.full(len(points), 0.7),
        confidence=0.41 if doubtful else 0.93,
        doubt="the change of grey is slow here" if doubtful else "",
    )


def _line(x: float, y: float, heading: float) -> LineFit:
    at = px([x, y])
    return LineFit(
        line=Line(x=float(at[0]), y=float(at[1]), heading=heading), u_shift=0.4, u_turn=0.001, rms=0.6, used=200
    )


def outline() -> Outline:
    """The outline in pixels."""
    parts = chains()
    spread = np.diag([2.0, 0.6])
    toes = {"toe_1": (LEG_1, 0.0), "toe_2": (0.0, LEG_2), "joint_root": (0.0, 0.0)}
    weld = np.concatenate([parts["weld_face"], parts["fusion_line_2"][::-1], parts["fusion_line_1"]])
    return Outline(
        boundaries={name: _boundary(name, points) for name, points in parts.items()},
        landmarks={name: Landmark(point=px(at), covariance=spread) for name, at in toes.items()},
        lines={
            "surface_1": _line(10.0, 0.0, 0.0),
            "surface_2": _line(0.0, 8.0, np.pi / 2),
            "back_1": _line(2.0, -PLATE_1, 0.0),
            "back_2": _line(-PLATE_2, 5.0, np.pi / 2),
        },
        weld=(px(weld),),
    )


def dimensions(*, scaled: bool = True) -> dict[str, Quantity]:
    """Values by hand where the drawing gives them; the rest is not read."""
    weld = outline().weld[0]
    known: dict[str, Quantity] = {
        "leg_1": Measured(value=LEG_1, u=0.041, unit="mm"),
        "leg_2": Measured(value=LEG_2, u=0.038, unit="mm"),
        "thickness_1": Measured(value=PLATE_1, u=0.03, unit="mm"),
        "thickness_2": Measured(value=PLATE_2, u=0.03, unit="mm"),
        "nominal_throat": Measured(value=4.36, u=0.035, unit="mm"),
        "convexity": Measured(value=0.59, u=0.05, unit="mm"),
        "root_penetration": Measured(value=0.55 * 2**0.5, u=0.06, unit="mm"),
        "penetration_1": Measured(value=1.3, u=0.05, unit="mm", dof=9.0),
        "penetration_2": Measured(value=1.05, u=0.05, unit="mm"),
        "undercut_1": Measured(value=0.0, u=0.03, unit="mm"),
        "haz_width_1": Measured(value=1.55, u=0.11, unit="mm"),
        "asymmetry": Measured(value=LEG_1 - LEG_2, u=0.055, unit="mm"),
        "weld_area": Measured(value=area(weld) / PX**2, u=0.24, unit="mm²"),
    }
    if not scaled:
        known = {name: Absent(reason="there is no scale") for name in known}
    known |= {
        "toe_angle_1": Measured(value=128.0, u=2.4, unit="°"),
        "toe_angle_2": Measured(value=131.0, u=2.6, unit="°"),
        "dilution": Measured(value=0.31, u=0.012, unit=""),
    }
    missing = Absent(reason="the HAZ edge on member 2 does not stand out from the plate")
    return {term.id: known.get(term.id, missing) for term in dimensions_of("tee")}


def reading(*, scaled: bool = True, **changes: object) -> Reading:
    """The whole reading."""
    made = Reading(
        joint=Joint(family="tee", thickness_1=8.0, thickness_2=6.0, throat=4.0),
        scale=Scale(px_per_mm=PX, u=0.12, origin="thickness_1=8")
        if scaled
        else NoScale(reason="no rule lies in the picture"),
        picture=PictureFacts(sha256="ab" * 32, name="N1-3_face_A.jpg", width=SIZE[0], height=SIZE[1]),
        regions=Regions(labels=labels()[::4, ::4].copy(), factor=4.0),
        outline=outline(),
        dimensions=dimensions(scaled=scaled),
        doubts=(
            Doubt(
                part="haz_edge_2",
                reason="the change of grey is slow on member 2.",
                remedy="Set three marks called haz_edge_2 along it, or etch a little longer.",
            ),
        ),
        notes=("the photo was turned as its EXIF entry asks",),
        preparation=Preparation(
            etchant="Nital 5 %, 20 s", finish="P1200", material="S275", specimen="N1-3, face A", reader="R. Vale"
        ),
        program="etchbook 0.1.0",
    )
    from dataclasses import replace

    return replace(made, **changes)  # type: ignore[arg-type]


def corrected() -> Reading:
    """The same with a person's marks and the first outline kept."""
    marks = (
        Mark(name="toe_1", points=px([[LEG_1, 0.0]])),
        Mark(name="fusion_line", points=px([[-0.5, -0.5], [2.4, -1.3]]), replaces=True),
    )
    return reading(marks=marks, automatic=outline())


def labels() -> np.ndarray:
    """Regions at full size."""
    shape = SIZE[1], SIZE[0]
    found = np.zeros(shape, np.uint8)
    for ring in (
        [(-10.4, 0), (14.4, 0), (14.4, -PLATE_1), (-10.4, -PLATE_1)],
        [(-PLATE_2, 0), (0, 0), (0, 10.6), (-PLATE_2, 10.6)],
    ):
        found[rasterise(px(ring), shape)] = 1
    parts = chains()
    for edge in ("1", "2"):
        band = np.concatenate([parts[f"fusion_line_{edge}"], parts[f"haz_edge_{edge}"][::-1]])
        found[rasterise(px(band), shape) & (found == 1)] = 2
    found[rasterise(outline().weld[0], shape)] = 3
    return found


def picture() -> Picture:
    """A grey photograph of the section, grainy, with uneven light."""
    kinds = labels()
    generator = np.random.default_rng(7)
    grey = np.choose(kinds, [26.0, 150.0, 112.0, 178.0]) + generator.normal(0, 7, kinds.shape)
    grey += np.linspace(-18, 18, SIZE[0])[None] * (kinds > 0)
    eight = np.clip(grey, 0, 255).astype(np.uint16)
    return Picture(rgb=np.repeat((eight * 257)[..., None], 3, axis=2), sha256="ab" * 32, name="N1-3_face_A.jpg")


def _limit(name: str, number: str, title: str, dimension: str, most: str, *, short: bool = False) -> Limit:
    return Limit(
        id=name,
        number=number,
        title=title,
        reference="",
        dimensions=(dimension,),
        least="",
        most=most,
        short=short,
        source="ISO 5817",
        edition="2014",
        clause=f"Table 1, {number}",
        status="seen" if number != "1.7" else "from memory",
    )


def judgement(read: Reading | None = None) -> Judgement:
    """Six findings, one of each verdict; the figures are set by hand for the page's sake."""
    values = (read or reading()).dimensions
    rows = (
        (
            Verdict.MET,
            "convexity",
            "1.10",
            "excessive convexity",
            "1 + 0.1 × 8.36 = 1.84 mm, at most 3 mm",
            1.84,
            False,
        ),
        (
            Verdict.TOO_CLOSE,
            "asymmetry",
            "1.16",
            "excessive asymmetry of fillet weld",
            "0.15 × 4 = 0.60 mm",
            0.60,
            False,
        ),
        (Verdict.NOT_MET, "toe_angle_1", "1.12", "incorrect weld toe", "at least 140°", 140.0, False),
        (
            Verdict.ONLY_IF_SHORT,
            "penetration_2",
            "2.13",
            "lack of penetration",
            "0.2 × 4 = 0.80 mm, at most 2 mm",
            0.8,
            True,
        ),
        (
            Verdict.NOT_READABLE,
            "undercut_2",
            "1.7",
            "undercut, continuous",
            "0.05 × 6 = 0.30 mm, at most 0.5 mm",
            0.3,
            False,
        ),
        (Verdict.DOES_NOT_APPLY, "missed_root", "1.8", "shrinkage groove", "", None, False),
    )
    findings = tuple(
        Finding(
            verdict=verdict,
            dimension=dimension,
            value=values[dimension],
            limit=_limit(f"row_{number}", number, title, dimension, "1 + 0.1*b", short=short),
            bound=bound,
            formula=formula,
            probability=0.98 if bound else None,
            words=f"{title}: {verdict}.",
        )
        for verdict, dimension, number, title, formula, bound, short in rows
    )
    counts = {str(verdict): 1 for verdict in Verdict}
    return Judgement(
        against="iso-5817:B", title="ISO 5817:2014, quality level B", risk=0.05, findings=findings, counts=counts
    )
