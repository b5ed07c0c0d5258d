"""The story of trial N2 in a book: four beads with readings made by hand, two low ones and two tall ones."""

import hashlib
import json
import sys
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "rooms" / "report"))
import example

from etchbook.joint import Joint
from etchbook.quantity import Measured
from etchbook.report import reading_document
from etchbook.trials.records import Bead, Piece, ReadingEdition, Setting, Trial
from etchbook.trials.records import Dimension as Kept
from etchbook.usecases.keeping.ports import Change, Hand, Write
from etchbook.wiring.shelf import meant

HAND = Hand(by="KM", at="2026-03-09T09:00:00+00:00")
CONVEXITY = {"N2-01": 0.26, "N2-02": 0.24, "N2-03": 1.08, "N2-04": 1.17}


def setting(name: str, value: float, origin: str = "set") -> Setting:
    return Setting(name=name, value=value, origin=origin, typed=str(value))  # type: ignore[arg-type]


def writes(code: str, convexity: float, sha256: str) -> list[Write]:
    tall = convexity > 0.5
    settings = (
        setting("volts", 21.5), setting("travel", 5.667), setting("wire_feed", 8.5), setting("wire_diameter", 1.0),
        setting("plate_length", 150.0), setting("plate_width", 100.0), setting("bead_length", 140.0),
        setting("thickness_1", 8.0), setting("thickness_2", 6.0), Setting(name="process", text="135"),
        setting("stick_out", 22.0 if tall else 15.0, "read"), setting("amps", 160.0 if tall else 188.0, "read"),
        setting("start_temperature", 6.5 if tall else 19.5, "read"),
    )  # fmt: skip
    edition = ReadingEdition(
        code=f"{code}-B-1-P1-R1", document=sha256, picture="0" * 64, made="automatic", program="test", family="tee",
        dimensions=(Kept(name="convexity", value=convexity, u=0.04, unit="mm"),),
    )  # fmt: skip
    records = (Bead(code=code, settings=settings), Piece(code=f"{code}-B", parent=f"{code}-0"), edition)
    return [Write(record=record, expects=0) for record in records]


def fill(folder: Path) -> None:
    """Put the story into the book that lies in a folder."""
    store = meant(str(folder))
    joint = Joint(family="tee", thickness_1=8.0, thickness_2=6.0)
    trial = Trial(code="N2", mark="m", question="why do bay B's beads stand <tall>?", material="S275", joint=joint)
    store.keep(Change(hand=HAND, words="began", writes=[Write(record=trial, expects=0)]))
    for code, convexity in CONVEXITY.items():
        base = example.reading()
        held = {**base.dimensions, "convexity": Measured(value=convexity, u=0.04, unit="mm"),
                "deposited_area": Measured(value=20.0, u=0.3, unit="mm²")}  # fmt: skip
        document = json.dumps(reading_document(replace(base, dimensions=held))).encode()
        sha256 = hashlib.sha256(document).hexdigest()
        store.keep(
            Change(hand=HAND, words="read", writes=writes(code, convexity, sha256), documents={sha256: document})
        )
    store.keep(Change(hand=HAND, words="welded", writes=[Write(record=Bead(code="N2-05"), expects=0)]))
    store.close()
