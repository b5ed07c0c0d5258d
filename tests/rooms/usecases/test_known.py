"""What the book knows of a section: put in by hand, asked for by the code of a face."""

import pytest

from etchbook.joint import Groove, Joint
from etchbook.section import CutPlace, Preparation
from etchbook.store import MemoryStore
from etchbook.trials.records import Book, Plate, Step
from etchbook.usecases.keeping.beads import keep_trial, log_bead
from etchbook.usecases.keeping.faces import prepare_face
from etchbook.usecases.keeping.known import beside, known_of
from etchbook.usecases.keeping.pieces import cut, keep_coupon
from etchbook.usecases.keeping.ports import Hand
from etchbook.usecases.keeping.settings import setting_of
from etchbook.usecases.reading import JointWish, joint_beside
from etchbook.wiring.units import amount

HAND = Hand(by="AB", at="2026-03-14T09:30:00+01:00")
DRAWN = Joint(family="butt", thickness_1=10.0, thickness_2=10.0, groove=Groove(gap=2.0, angle=60.0, root_face=1.0))


@pytest.fixture
def store() -> MemoryStore:
    made = MemoryStore(Book(id="b", name="Bay"))
    keep_trial(made, HAND, "N1", "m1", {"question": "Does it prove the V?", "joint": DRAWN, "wire": "G3Si1"})
    found = [setting_of("gap", "3mm", "set", amount), setting_of("gap", "2.6±0.1mm", "read", amount)]
    log_bead(made, HAND, "N1", found)
    plates = (Plate(member=1, material="S275", heat="H1"), Plate(member=2, material="S355", heat="H2"))
    keep_coupon(made, HAND, "N1-01", {"length": 150.0, "plates": plates})
    cut(made, HAND, "N1-01", at=(50.0, 100.0), kerf=2.0)
    steps = [Step(kind="grind", grit="P120"), Step(kind="grind", grit="P600"), Step(kind="etch", etchant="nital 3 %",
                                                                                    seconds=15.0)]  # fmt: skip
    prepare_face(made, HAND, "N1-01-B", steps, towards="N1-01-C")
    return made


def test_the_gap_that_was_measured_stands_before_the_one_on_the_drawing(store: MemoryStore) -> None:
    joint = known_of(store, "n1-1-b-1").joint
    assert joint is not None
    assert joint.groove == Groove(gap=2.6, u_gap=0.1, angle=60.0, root_face=1.0)
    assert (joint.family, joint.thickness_1) == ("butt", 10.0)


def test_the_report_learns_face_and_cut_from_the_book(store: MemoryStore) -> None:
    for code in ("N1-01-B-1", "N1-01-B"):
        said = known_of(store, code).preparation
        # The piece runs from 51 to 99 mm between two cuts of 2 mm; its face looks to the stop, where piece C was.
        assert said.cut == CutPlace(at=99.0, seam=150.0, start=51.0, stop=99.0, towards="stop")
        assert said.place.startswith("piece N1-01-B of coupon N1-01-0, 99 mm from the start of a seam of 150 mm")
        assert "the cut face that met N1-01-C" in said.place
        assert (said.finish, said.etchant, said.etching) == ("ground, P600", "nital 3 %", "15 s")
        assert said.material == "member 1: S275, heat H1; member 2: S355, heat H2"
        assert (said.consumable, said.purpose) == ("G3Si1", "Does it prove the V?")


def test_what_nobody_measured_is_not_made_up(store: MemoryStore) -> None:
    log_bead(store, HAND, "N1", [])
    cut(store, HAND, "N1-02", into=2)
    prepare_face(store, HAND, "N1-02-A", [])
    said = known_of(store, "N1-02-A-1").preparation
    assert said.cut is None
    assert "where along the seam is not given" in said.place
    assert said.etchant == said.finish == said.etching == ""


def test_a_person_has_the_last_word(store: MemoryStore) -> None:
    known = known_of(store, "N1-01-B-1")
    told = beside(known.preparation, Preparation(etchant="ammonium persulfate 10 %", reader="JD"))
    assert (told.etchant, told.reader, told.finish) == ("ammonium persulfate 10 %", "JD", "ground, P600")
    wish = joint_beside(known.joint, JointWish(groove=Groove(gap=1.0)))
    assert (wish.family, wish.groove, wish.thickness_2) == ("butt", Groove(gap=1.0), 10.0)
    other = JointWish(family="tee")
    assert joint_beside(known.joint, other) == other
