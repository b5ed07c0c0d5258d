"""The demo's book: the (invented) training bay of the Northmoor tram depot, trials N1 and N2. All is simulated."""

from collections.abc import Sequence
from dataclasses import dataclass

from etchbook.joint import Joint
from etchbook.simulate import NORTHMOOR, Piece
from etchbook.trials.records import Plate, Setting, Step
from etchbook.usecases.demo import AGAINST, Shown
from etchbook.usecases.keeping.beads import change_bead, keep_trial, log_bead
from etchbook.usecases.keeping.certificates import keep_certificate
from etchbook.usecases.keeping.faces import Photo, prepare_face
from etchbook.usecases.keeping.pieces import cut, keep_coupon, keep_piece
from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.usecases.keeping.saving import save
from etchbook.usecases.keeping.settings import Convert, setting_of
from etchbook.usecases.ports import Press

JOINT = Joint(family="tee", thickness_1=8.0, thickness_2=6.0, throat=4.0)
SHEET = {
    "process": "135", "volts": "21.5V", "wire_feed": "8.5m/min", "wire_diameter": "1.0mm", "travel": "34cm/min",
    "stick_out": "15mm", "gas": "Ar + 18 % CO2", "gas_flow": "14L/min", "polarity": "DC+", "technique": "push",
    "work_angle": "45°", "travel_angle": "10°", "thickness_1": "8mm", "thickness_2": "6mm", "plate_length": "150mm",
    "wire": "G3Si1 1.0 mm, batch 7", "surface": "ground bright at the joint",
}  # fmt: skip
"""Settings sheet 4 of the bay (invented)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Weld:
    """One bead of the demo: which painted piece shows it, who welded it when, what differed, was read and seen."""

    trial: str
    scene: str
    operator: str
    welded: str
    differs: tuple[tuple[str, str], ...] = ()
    read: tuple[tuple[str, str], ...] = ()
    seen: str = ""


WELDS = (
    Weld(trial="N1", scene="N1-A-02", operator="AB", welded="2026-03-02T09:10", differs=(("position", "PB"),
         ("travel_angle", "-5°"), ("technique", "drag")), read=(("amps", "186A"), ("start_temperature", "18°C")),
         seen="gap of 0.3 mm at the root; arc wandered to the upper plate"),
    Weld(trial="N1", scene="N1-A-01", operator="AB", welded="2026-03-02T10:40", differs=(("position", "PB"),),
         read=(("amps", "188A"), ("start_temperature", "19°C")), seen="even ripples, little spatter"),
    Weld(trial="N1", scene="N1-A-03", operator="KM", welded="2026-03-03T08:30", differs=(("position", "PF"),
         ("volts", "19.0V"), ("wire_feed", "6.0m/min"), ("travel", "17cm/min"), ("technique", "weave")),
         read=(("amps", "142A"), ("start_temperature", "17°C")), seen="convex; a draught through the open gate"),
    Weld(trial="N2", scene="N2-A-01", operator="KM", welded="2026-03-09T09:00", differs=(("position", "PB"),
         ("machine", "bay A")), read=(("amps", "189A"), ("start_temperature", "19°C"), ("ambient", "18°C"))),
    Weld(trial="N2", scene="N2-A-02", operator="KM", welded="2026-03-09T09:35", differs=(("position", "PB"),
         ("machine", "bay A")), read=(("amps", "187A"), ("start_temperature", "20°C"), ("ambient", "18°C"))),
    Weld(trial="N2", scene="N2-B-01", operator="KM", welded="2026-03-09T11:00", differs=(("position", "PB"),
         ("machine", "bay B")), read=(("amps", "161A"), ("start_temperature", "6°C"), ("ambient", "17°C")),
         seen="bead stands tall; plates came straight from the cold store"),
    Weld(trial="N2", scene="N2-B-02", operator="KM", welded="2026-03-09T11:30", differs=(("position", "PB"),
         ("machine", "bay B")), read=(("amps", "159A"), ("start_temperature", "7°C"), ("ambient", "17°C")),
         seen="bead stands tall"),
)  # fmt: skip

FIRST = WELDS[0].scene
"""The scene on which there is most to see: not all limits are met."""

QUESTIONS = {
    "N1": "Does settings sheet 4 prove the tee fillet for the pole brackets?",
    "N2": "Why do bay B's beads penetrate less and stand taller than bay A's at the same sheet?",
}


def faces_of(store: BookStore) -> dict[str, str]:
    """The code of each scene's face in a book that was filled before; empty where it was not filled to the end."""
    order: dict[str, list[str]] = {code: [] for code in QUESTIONS}
    for weld in WELDS:
        order[weld.trial].append(weld.scene)
    faces = {
        scene: f"{trial}-{number:02d}-B-1" for trial in order for number, scene in enumerate(order[trial], start=1)
    }
    return faces if all(store.entry(code) is not None for code in faces.values()) else {}


def lacking(store: BookStore) -> tuple[Piece, ...]:
    """The scenes that no picture of the book shows yet, first the one on which there is most to see."""
    faces = faces_of(store)
    left = [piece for piece in NORTHMOOR if piece.name in faces and store.entry(_reading(faces[piece.name])) is None]
    return tuple(sorted(left, key=lambda piece: piece.name != FIRST))


def begin(store: BookStore, convert: Convert) -> dict[str, str]:
    """Fill the book with the trials, beads, coupons, cuts and faces; the code of each scene's face."""
    office = Hand(by="AB", at="2026-03-02T08:00+01:00")
    certificate = keep_certificate(store, office, "H4711", {"C": 0.15, "Si": 0.2, "Mn": 1.1, "P": 0.016, "S": 0.008},
                                   material="S275", remarks="invented")  # fmt: skip
    for code, question in QUESTIONS.items():
        said = {
            "question": question,
            "joint": JOINT,
            "material": "S275",
            "wire": "G3Si1 1.0 mm",
            "gas": "Ar + 18 % CO2",
            "procedure": "settings sheet 4",
            "remarks": "invented and simulated",
        }
        keep_trial(store, office, code, f"northmoor-{code}", said)
    faces = {weld.scene: _bead(store, weld, convert, certificate.code) for weld in WELDS}
    _found_later(store, convert)
    return faces


def _settings(pairs: Sequence[tuple[str, str]], convert: Convert) -> list[Setting]:
    return [setting_of(name, text, "set", convert) for name, text in pairs]


def _bead(store: BookStore, weld: Weld, convert: Convert, certificate: str) -> str:
    """Log a bead, cut its coupon, prepare the face that was pictured; the face's code."""
    hand = Hand(by=weld.operator, at=f"{weld.welded}+01:00")
    settings = _settings([*{**SHEET, **dict(weld.differs), "operator": weld.operator}.items()], convert)
    settings += [setting_of(name, text, "read", convert) for name, text in weld.read]
    if weld.seen:
        settings.append(Setting(name="remarks", origin="seen", text=weld.seen))
    bead = log_bead(store, hand, weld.trial, settings, welded=weld.welded)
    plates = (Plate(member=1, material="S275", thickness=8.0, heat="H4711", certificate=certificate),
              Plate(member=2, material="S275", thickness=6.0, heat="H4711", certificate=certificate))  # fmt: skip
    keep_coupon(store, hand, bead.code, {"plates": plates, "length": 150.0, "place": "bay rack"})
    later = Hand(by=weld.operator, at=f"{weld.welded[:10]}T14:00+01:00")
    pieces = cut(store, later, bead.code, at=(50.0, 100.0), kerf=1.5, place=f"drawer {weld.trial}")
    at = later.at
    steps = [Step(kind="grind", grit=grit, seconds=90.0, by=later.by, at=at) for grit in ("P120", "P320", "P600")]
    steps.append(Step(kind="etch", etchant="none: the picture is simulated", by=later.by, at=at))
    face, _ = prepare_face(store, later, pieces[1].code, steps, towards=pieces[0].code)
    return face.code


def _found_later(store: BookStore, convert: Convert) -> None:
    """What was measured a day later, and a piece that went astray: both are new editions, the old ones stay."""
    later = Hand(by="AB", at="2026-03-10T08:15+01:00")
    for code in ("N2-03", "N2-04"):
        change_bead(store, later, code, [setting_of("stick_out", "22±1mm", "read", convert)])
    keep_piece(store, later, "N2-03-A", state="lost", remarks="last seen on the etching bench")


def keep_shown(store: BookStore, code: str, shown: Shown, press: Press) -> tuple[str, ...]:
    """Put a painted picture with its reading and judgement on its face."""
    photo = photo_of(shown)
    if any(store.below(kept, "reading") for kept in store.pictures_of(photo.sha256)):
        return ()
    hand = Hand(by="AB", at="2026-03-10T09:00+01:00")
    document = press.page("json", shown.reading, None, None)
    return save(store, hand, code, photo, shown.reading, document, verdicts=shown.judgement, against=AGAINST)


def _reading(face: str) -> str:
    return f"{face}-P1-R1"


def readings_of(store: BookStore) -> dict[str, str]:
    """The code of each scene's reading, of those that are in the book."""
    made = {scene: _reading(face) for scene, face in faces_of(store).items()}
    return {scene: code for scene, code in made.items() if store.entry(code) is not None}


def photo_of(shown: Shown) -> Photo:
    """A painted picture as a photograph on its way into the book."""
    picture = shown.reading.picture
    return Photo(
        data=shown.files[picture.name],
        sha256=picture.sha256,
        name=picture.name,
        suffix=".png",
        width=picture.width,
        height=picture.height,
    )
