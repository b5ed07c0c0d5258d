"""What the book knows of a section before its picture is read: the joint as it was made, the face, the cut."""

from dataclasses import dataclass, fields, replace
from typing import Any, TypeVar

from etchbook.joint import Groove, Joint
from etchbook.section import CutPlace, Preparation
from etchbook.trials.codes import bead_code, code_kind, normal_code
from etchbook.trials.records import Bead, Coupon, Face, Piece, Record, Setting, Step, Trial
from etchbook.usecases.keeping.ports import BookStore

R = TypeVar("R", bound=Record)
TRUSTED = ("set", "seen", "read")
"""What was read off an instrument stands before what was seen, and that before what was set."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """What the book knows of a section; `joint` is None where nobody said which joint it is."""

    joint: Joint | None
    preparation: Preparation


def known_of(store: BookStore, typed: str) -> Known:
    """What the book knows of the section on a face, a piece, or in a picture.

    The joint is the trial's; sizes that were found on the bead itself stand in their place.

    Parameters
    ----------
    typed : code of a piece, a face or a picture
    """
    code = normal_code(typed)
    piece, face = _above(store, code)
    trial = _record(store, code.partition("-")[0], Trial)
    bead = _record(store, bead_code(code), Bead)
    coupon = _record(store, f"{bead_code(code)}-0", Coupon)
    found = {} if bead is None else _best(bead)
    return Known(joint=_joint(trial, found), preparation=_preparation(code, trial, coupon, piece, face, found))


def beside(known: Preparation, said: Preparation) -> Preparation:
    """What the book knows, with what a person says in its place."""
    told = {field.name: getattr(said, field.name) for field in fields(said)}
    return replace(known, **{name: value for name, value in told.items() if value})


def _above(store: BookStore, code: str) -> tuple[Piece | None, Face | None]:
    """The piece that a code belongs to, and the face: of a piece with a single face, that one."""
    parts = code.split("-")
    piece = _record(store, "-".join(parts[:3]), Piece)
    if code_kind(code) != "piece":
        return piece, _record(store, "-".join(parts[:4]), Face)
    faces = [entry.record for entry in store.below(code, "face")]
    only = faces[0] if len(faces) == 1 else None
    return piece, only if isinstance(only, Face) else None


def _record(store: BookStore, code: str, kind: type[R]) -> R | None:
    entry = store.entry(code)
    return entry.record if entry is not None and isinstance(entry.record, kind) else None


def _best(bead: Bead) -> dict[str, Setting]:
    """Each setting of a bead once, the most trusted of its origins."""
    ordered = sorted(bead.settings, key=lambda one: TRUSTED.index(one.origin))
    return {one.name: one for one in ordered}


def _joint(trial: Trial | None, found: dict[str, Setting]) -> Joint | None:
    meant = None if trial is None else trial.joint
    if meant is None:
        return None
    sizes: dict[str, Any] = {name: found[name].value for name in ("thickness_1", "thickness_2") if name in found}
    if meant.family == "bead":
        sizes.pop("thickness_2", None)
    groove = _groove(meant.groove, found) if meant.family == "butt" else None
    return replace(meant, **{name: value for name, value in sizes.items() if value}, groove=groove)


def _groove(meant: Groove | None, found: dict[str, Setting]) -> Groove | None:
    names = {"gap": "gap", "groove_angle": "angle", "root_face": "root_face"}
    told: dict[str, Any] = {}
    for setting, name in names.items():
        if setting in found and found[setting].value is not None:
            told |= {name: found[setting].value, f"u_{name}": found[setting].u}
    return replace(meant or Groove(), **told) if told else meant


def _preparation(
    code: str,
    trial: Trial | None,
    coupon: Coupon | None,
    piece: Piece | None,
    face: Face | None,
    found: dict[str, Setting],
) -> Preparation:
    steps = () if face is None else face.steps
    wire = found["wire"].text if "wire" in found else ""
    cut = _cut(coupon, piece, face)
    return Preparation(
        etchant=", then ".join(dict.fromkeys(step.etchant for step in steps if step.etchant)),
        etching=_etching(steps),
        finish=_finish(steps),
        material=_material(trial, coupon),
        consumable=wire or ("" if trial is None else trial.wire),
        purpose="" if trial is None else "; ".join(word for word in (trial.procedure, trial.question) if word),
        specimen=f"{piece.code}" + (f", face {face.code}" if face is not None else "") if piece is not None else code,
        place=_place(piece, face, cut),
        cut=cut,
    )


def _material(trial: Trial | None, coupon: Coupon | None) -> str:
    plates = () if coupon is None else coupon.plates
    named = {plate.member: _joined(plate.material, plate.heat and f"heat {plate.heat}") for plate in plates}
    if len(plates) > 1 and len(set(named.values())) == 1:
        named = {0: named[plates[0].member]}
    told = [f"member {member}: {words}" if member else words for member, words in named.items() if words]
    return "; ".join(told) or ("" if trial is None else trial.material)


def _joined(*words: str) -> str:
    return ", ".join(word for word in words if word)


def _finish(steps: tuple[Step, ...]) -> str:
    """The finest the face came to: its last grinding or polishing."""
    done = [step for step in steps if step.grit or step.polish]
    return "" if not done else (f"polished, {done[-1].polish}" if done[-1].polish else f"ground, {done[-1].grit}")


def _etching(steps: tuple[Step, ...]) -> str:
    told = [_joined(step.remarks, f"{step.seconds:g} s" if step.seconds else "") for step in steps if step.etchant]
    return ", then ".join(word for word in told if word)


def _cut(coupon: Coupon | None, piece: Piece | None, face: Face | None) -> CutPlace | None:
    """Where the face stands along the seam, where the book knows on which side of its piece it is."""
    if piece is None or face is None:
        return None
    ends = [facing.end for facing in piece.facing if facing.other == face.towards]
    if len(ends) != 1:
        return None
    at = piece.start if ends[0] == "start" else piece.stop
    if at is None:
        return None
    seam = None if coupon is None else coupon.length
    return CutPlace(at=at, seam=seam, start=piece.start, stop=piece.stop, towards=ends[0])


def _place(piece: Piece | None, face: Face | None, cut: CutPlace | None) -> str:
    if piece is None:
        return ""
    of = f"of coupon {bead_code(piece.code)}-0"
    met = f"; the cut face that met {face.towards}" if face is not None and face.towards else ""
    if cut is None:
        return f"piece {piece.code} {of}{met}; where along the seam is not given"
    seam = "" if cut.seam is None else f" of a seam of {cut.seam:g} mm"
    return f"piece {piece.code} {of}, {cut.at:g} mm from the start{seam}, looking to the {cut.towards}{met}"
