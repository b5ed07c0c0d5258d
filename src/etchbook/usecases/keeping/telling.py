"""A thing of the book in one plain line, as commands and pages both tell it."""

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

from etchbook.terms.settings import SETTINGS
from etchbook.trials.records import (
    Bead,
    Certificate,
    Coupon,
    Face,
    IndicationEntry,
    JudgementEntry,
    PictureEntry,
    Piece,
    ReadingEdition,
    Setting,
    Step,
    Trial,
)
from etchbook.usecases.keeping.ports import Entry

ATTENTION = ("not met", "too close to say", "only if short", "met")


def line_of(entry: Entry) -> str:
    """One line that tells what an entry is."""
    teller = _LINES.get(entry.kind)
    return teller(entry.record) if teller else ""


def _joined(parts: Sequence[str]) -> str:
    return ", ".join(part for part in parts if part)


def _trial(record: Trial) -> str:
    joint = "" if record.joint is None else record.joint.family
    return _joined((record.question, joint, record.material, record.gas))


def setting(one: Setting) -> str:
    """A setting in words: its value in our unit, and as it was typed where that was another."""
    term = SETTINGS[one.name]
    if one.value is None:
        return f"{term.label} {one.text}"
    spread = "" if one.u is None else f" ± {one.u:.3g}"
    ours = f"{one.value:.4g}{spread} {term.unit}"
    typed = "" if one.typed.replace(" ", "") in ("", ours.replace(" ", ""), f"{one.value:g}") else f" ({one.typed})"
    return f"{term.label} {ours}{typed}"


def _bead(record: Bead) -> str:
    short = ("volts", "amps", "wire_feed", "travel", "gas", "operator")
    return _joined([setting(one) for one in record.settings if one.origin == "set" and one.name in short])


def _coupon(record: Coupon) -> str:
    plates = _joined([f"{one.material} {one.thickness or '?'} mm" for one in record.plates])
    return _joined((plates, record.state, record.place))


def _piece(record: Piece) -> str:
    faces = " and ".join(one.other for one in record.facing)
    return _joined((record.state, record.place, f"met {faces}" if faces else ""))


def _face(record: Face) -> str:
    return _joined([f"towards {record.towards}" if record.towards else "", *(step(one) for one in record.steps)])


def step(one: Step) -> str:
    """A preparation step in words."""
    how = one.grit or one.polish or one.etchant
    return " ".join(part for part in (one.kind, how, f"{one.seconds:g} s" if one.seconds else "") if part)


def _picture(record: PictureEntry) -> str:
    return _joined((record.name, f"{record.width} x {record.height} px", record.finish, record.etched, record.light))


def _reading(record: ReadingEdition) -> str:
    shown = ("leg_1", "leg_2", "nominal_throat", "weld_width", "penetration_1")
    values = [f"{one.name} {one.value:.2f} {one.unit}" for one in record.dimensions
              if one.name in shown and one.value is not None]  # fmt: skip
    return _joined((record.family, record.made, *values))


def _judgement(record: JudgementEntry) -> str:
    counts = Counter(one.verdict for one in record.findings)
    told = [f"{counts[word]} {word}" for word in ATTENTION if counts[word]]
    return _joined((record.against, *told, f"of edition {record.edition}"))


def _indication(record: IndicationEntry) -> str:
    return _joined((record.where, *(f"{one.check}: {one.answer}" for one in record.answers)))


def _certificate(record: Certificate) -> str:
    mixed = [f"{element} {share:g} %" for element, share in record.composition.items()]
    return _joined((f"heat {record.heat}", record.material, *mixed))


_LINES: dict[str, Callable[[Any], str]] = {
    "trial": _trial,
    "bead": _bead,
    "coupon": _coupon,
    "piece": _piece,
    "face": _face,
    "picture": _picture,
    "reading": _reading,
    "judgement": _judgement,
    "indication": _indication,
    "certificate": _certificate,
}


def kept(piece: Piece | Coupon) -> str:
    """Where a piece is, in words."""
    place = f"in {piece.place}" if piece.place else "nobody said where"
    words = {"kept": place, "lost": f"LOST, last {place}", "cut up": "cut up further"}
    return words.get(piece.state, f"{piece.state}, last {place}")
