"""Trials, beads, pieces and faces as JSON."""

from typing import Any

from fastapi import Request

from etchbook.joint import Groove, Joint
from etchbook.trials.records import Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.grooves import checked, fitting
from etchbook.usecases.keeping.beads import change_bead, keep_trial, log_bead
from etchbook.usecases.keeping.faces import prepare_face
from etchbook.usecases.keeping.looking import held, lookup
from etchbook.usecases.keeping.pieces import cut, keep_piece
from etchbook.usecases.keeping.settings import setting_of
from etchbook.web.api.shapes import BeadGiven, CutGiven, FaceGiven, JointGiven, PlaceGiven, SettingsGiven, TrialGiven
from etchbook.web.api.told import Pieces, Thing
from etchbook.web.api.verbs import BeadCode, PieceCode, TrialCode, thing_of, verbs
from etchbook.web.bench import get_book, hand_of
from etchbook.wiring import shelf
from etchbook.wiring.units import amount

router = verbs("beads")


@router.post("/trials", status_code=201)
def begin_trial(request: Request, given: TrialGiven) -> Thing:
    """Begin a trial."""
    store = get_book(request)
    if given.code and store.entry(given.code.upper()) is not None:
        raise RefusedError(f"there is a trial {given.code.upper()} already: choose another code, or leave it out")
    said: dict[str, Any] = {n: value for n, value in given.model_dump(exclude={"code", "joint"}).items() if value}
    if given.joint is not None:
        said["joint"] = _joint(given.joint)
    made, _ = keep_trial(store, hand_of(request), given.code, shelf.mark(), said)
    return thing_of(lookup(store, made.code))


def _joint(given: JointGiven) -> Joint:
    told = given.model_dump(exclude={"groove"})
    groove = None if given.groove is None else checked(Groove(**given.groove.model_dump()))
    return Joint(**told, groove=fitting(groove, given.family))


@router.post("/trials/{code}/beads", status_code=201)
def log_next_bead(request: Request, code: TrialCode, given: BeadGiven) -> Thing:
    """Log the next bead of a trial."""
    store = get_book(request)
    trial, _ = held(store, code, Trial)
    settings = [setting_of(one.name, one.value, one.origin, amount) for one in given.settings]
    made = log_bead(store, hand_of(request), trial.code, settings, like=given.like)
    return thing_of(lookup(store, made.code))


@router.post("/beads/{code}/settings")
def add_settings(request: Request, code: BeadCode, given: SettingsGiven) -> Thing:
    """Add to a bead what was set, read or seen later; another edition than the one looked at is refused."""
    settings = [setting_of(one.name, one.value, one.origin, amount) for one in given.settings]
    made = change_bead(get_book(request), hand_of(request), code, settings, expects=given.edition)
    return thing_of(lookup(get_book(request), made.code))


@router.post("/beads/{code}/cut", status_code=201)
def cut_coupon(request: Request, code: BeadCode, given: CutGiven) -> Pieces:
    """Cut the coupon of a bead, or a piece further; the parts know what they met."""
    store = get_book(request)
    made = cut(store, hand_of(request), code, into=given.into, at=given.at, kerf=given.kerf, place=given.place)
    return Pieces(items=[thing_of(lookup(store, one.code)) for one in made])


@router.post("/pieces/{code}/place")
def place_piece(request: Request, code: PieceCode, given: PlaceGiven) -> Thing:
    """Say where a piece is, or that it is lost, scrapped or sent away."""
    made = keep_piece(get_book(request), hand_of(request), code, place=given.place, state=given.state,
                      remarks=given.remarks, expects=given.edition)  # fmt: skip
    return thing_of(lookup(get_book(request), made.code))


@router.post("/pieces/{code}/faces", status_code=201)
def make_face(request: Request, code: PieceCode, given: FaceGiven) -> Thing:
    """Make the next face of a piece."""
    store = get_book(request)
    made, _ = prepare_face(store, hand_of(request), code, (), towards=given.towards, remarks=given.remarks)
    return thing_of(lookup(store, made.code))
