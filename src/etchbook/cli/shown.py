"""What the book's commands print: a thing of the book in plain lines."""

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

from etchbook.cli import show

if TYPE_CHECKING:
    from etchbook.trials.records import Bead, Certificate, Coupon, Face, Piece, ReadingEdition, Setting, Trial
    from etchbook.usecases.keeping.pieces import Whereabouts
    from etchbook.usecases.keeping.ports import BookStore, Entry


def line_of(entry: "Entry") -> str:
    """One line that tells what an entry is."""
    teller = _LINES.get(entry.kind)
    return teller(entry.record) if teller else ""


def rows(entries: "Iterable[Entry]") -> None:
    """Entries as a table: code, what it is, one line of it, who made it and when."""
    cells = [(one.code, one.kind, line_of(one), one.by, one.at[:16].replace("T", " ")) for one in entries]
    show.table(("code", "is", "what", "by", "when"), cells)


def _joined(parts: "Sequence[str]") -> str:
    return ", ".join(part for part in parts if part)


def _trial(record: "Trial") -> str:
    joint = "" if record.joint is None else record.joint.family
    return _joined((record.question, joint, record.material, record.gas))


def setting(one: "Setting") -> str:
    """A setting in words: its value in our unit, and as it was typed where that was another."""
    from etchbook.terms.settings import SETTINGS

    term = SETTINGS[one.name]
    if one.value is None:
        return f"{term.label} {one.text}"
    spread = "" if one.u is None else f" ± {one.u:.3g}"
    ours = f"{one.value:.4g}{spread} {term.unit}"
    typed = "" if one.typed.replace(" ", "") in ("", ours.replace(" ", ""), f"{one.value:g}") else f" ({one.typed})"
    return f"{term.label} {ours}{typed}"


def _bead(record: "Bead") -> str:
    short = ("volts", "amps", "wire_feed", "travel", "gas", "operator")
    return _joined([setting(one) for one in record.settings if one.origin == "set" and one.name in short])


def _coupon(record: "Coupon") -> str:
    plates = _joined([f"{one.material} {one.thickness or '?'} mm" for one in record.plates])
    return _joined((plates, record.state, record.place))


def _piece(record: "Piece") -> str:
    faces = " and ".join(one.other for one in record.facing)
    return _joined((record.state, record.place, f"met {faces}" if faces else ""))


def _face(record: "Face") -> str:
    return _joined([f"towards {record.towards}" if record.towards else "", *(step(one) for one in record.steps)])


def step(one: "object") -> str:
    """A preparation step in words."""
    from etchbook.trials.records import Step

    assert isinstance(one, Step)
    how = one.grit or one.polish or one.etchant
    return " ".join(part for part in (one.kind, how, f"{one.seconds:g} s" if one.seconds else "") if part)


def _picture(record: "object") -> str:
    from etchbook.trials.records import PictureEntry

    assert isinstance(record, PictureEntry)
    return _joined((record.name, f"{record.width} x {record.height} px", record.finish, record.etched, record.light))


def _reading(record: "ReadingEdition") -> str:
    shown = ("leg_1", "leg_2", "nominal_throat", "weld_width", "penetration_1")
    values = [f"{one.name} {one.value:.2f} {one.unit}" for one in record.dimensions
              if one.name in shown and one.value is not None]  # fmt: skip
    return _joined((record.family, record.made, *values))


def _judgement(record: "object") -> str:
    from collections import Counter

    from etchbook.trials.records import JudgementEntry

    assert isinstance(record, JudgementEntry)
    counts = Counter(one.verdict for one in record.findings)
    told = [f"{counts[word]} {word}" for word in show.ATTENTION[:4] if counts[word]]
    return _joined((record.against, *told, f"of edition {record.edition}"))


def _indication(record: "object") -> str:
    from etchbook.trials.records import IndicationEntry

    assert isinstance(record, IndicationEntry)
    return _joined((record.where, *(f"{one.check}: {one.answer}" for one in record.answers)))


def _certificate(record: "Certificate") -> str:
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


def whereabouts(found: "Whereabouts") -> None:
    """Where a piece is, and where its other half is."""
    piece = found.piece
    print(f"{piece.code}: {_kept(piece)}")
    for facing, other in found.facing:
        print(f"other half at its {facing.end}: {other.code}, {_kept(other)} (cut {facing.cut})")
    if not found.facing:
        print("other half: none is known; it met no other piece across a cut")
    for other in found.others:
        print(f"of the same coupon: {other.code}, {_kept(other)}")


def _kept(piece: "Piece") -> str:
    place = f"in {piece.place}" if piece.place else "nobody said where"
    words = {"kept": place, "lost": f"LOST, last {place}", "cut up": "cut up further"}
    return words.get(piece.state, f"{piece.state}, last {place}")


def thing(store: "BookStore", entry: "Entry") -> None:
    """A thing of the book with everything below it."""
    from etchbook.trials.records import Bead, Face, Piece, ReadingEdition

    binned = f" — IN THE BIN since {entry.binned}" if entry.binned else ""
    print(f"{entry.code} ({entry.kind}, edition {entry.edition}, {entry.by}, {entry.at[:16]}){binned}")
    record = entry.record
    if isinstance(record, Bead):
        for origin in ("set", "read", "seen"):
            told = [setting(one) for one in record.settings if one.origin == origin]
            if told:
                print(f"{origin}: {'; '.join(told)}")
        if not entry.binned:
            from etchbook.cli.weld import beside_bead

            beside_bead(store, record.code)
    elif isinstance(record, Face):
        for number, one in enumerate(record.steps, start=1):
            print(f"step {number}: {step(one)}")
    elif isinstance(record, ReadingEdition):
        dimensions(record)
    elif line_of(entry):
        print(line_of(entry))
    if isinstance(record, Piece) and not entry.binned:
        from etchbook.usecases.keeping.pieces import whereabouts as look

        whereabouts(look(store, record.code))
    below = [one for one in store.tree(entry.code) if one.code != entry.code]
    if below:
        rows(below)


def dimensions(record: "ReadingEdition") -> None:
    """Every dimension of a reading, or why it is absent."""
    import math

    from etchbook.quantity import Measured, rounded

    cells = []
    for one in record.dimensions:
        if one.value is None or one.u is None:
            cells.append((one.name, "not read", "", "", one.absent))
        else:
            value, spread = rounded(Measured(value=one.value, u=one.u, unit=one.unit, dof=one.dof or math.inf))
            cells.append((one.name, value, spread, one.unit, ""))
    show.table(("dimension", "value", "U (95 %)", "unit", "why it was not read"), cells)
    for doubt in record.doubts:
        print(f"doubtful: {doubt}")
