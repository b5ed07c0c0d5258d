"""Beads of the book, ready to be compared; and the book's own scatter, which replaces planning values."""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass

from etchbook.quantity import Measured
from etchbook.section import Reading
from etchbook.trials import code_kind, normal_code, parent_code
from etchbook.trials.codes import bead_code
from etchbook.trials.records import Bead, Coupon, ReadingEdition, Setting, Trial
from etchbook.trials.scatter import BeadResponse, Scatter, pooled
from etchbook.usecases.comparing import BeadReadings
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore, Entry

LEAST_DOF = 4.0
"""Fewer degrees of freedom than this tell less than the planning value does."""
ORIGINS = ("set", "seen", "read")
"""Where a setting was put down more than once, the later of these counts: an instrument before the dial."""
PAGE = 500


@dataclass(frozen=True, kw_only=True, slots=True)
class Readable:
    """A bead on which something was read, with its readings by code."""

    code: str
    trial: str
    readings: tuple[str, ...]


def readable_beads(store: BookStore) -> tuple[Readable, ...]:
    """Every bead of the book on which something was read, by code."""
    found: dict[str, list[str]] = {}
    for entry in _every(store, "reading"):
        code = bead_code(entry.code)
        if code:
            found.setdefault(code, []).append(entry.code)
    return tuple(Readable(code=code, trial=parent_code(code), readings=tuple(held)) for code, held in found.items())


def beads_of(store: BookStore, typed: Sequence[str], parse: Callable[[str], Reading]) -> tuple[BeadReadings, ...]:
    """Beads of one group, each once, however often it or its readings are named.

    Parameters
    ----------
    typed : codes of beads, or of readings: then these alone stand for their bead
    """
    picked: dict[str, set[str]] = {}
    for word in typed:
        code = normal_code(word)
        bead = bead_code(code) or code
        alone = code_kind(code) == "reading"
        if bead not in picked:
            picked[bead] = {code} if alone else set()
        elif picked[bead]:  # the whole bead was not named before
            picked[bead] = picked[bead] | {code} if alone else set()
    return tuple(bead_of(store, bead, parse, only) for bead, only in picked.items())


def bead_of(store: BookStore, typed: str, parse: Callable[[str], Reading], only: Collection[str] = ()) -> BeadReadings:
    """A bead of the book with the readings of its faces.

    Every face is a section of the bead; several pictures or joints read on one face are readings of one section.

    Parameters
    ----------
    store : the book
    typed : code of the bead
    only : codes of the readings that are to stand for it; all of them where empty
    parse : makes a reading of its JSON document
    """
    bead, _ = held(store, typed, Bead)
    tree = store.tree(bead.code)
    sections: dict[str, list[Reading]] = {}
    for entry in tree:
        if isinstance(entry.record, ReadingEdition) and (not only or entry.code in only):
            face = parent_code(parent_code(entry.code))
            document = store.document(entry.record.document).decode()
            sections.setdefault(face, []).append(parse(document))
    order = float(bead.code.rpartition("-")[2])
    if not sections:
        raise RefusedError(f"nothing was read on bead {bead.code} yet: save a reading in the book first")
    return BeadReadings(
        code=bead.code,
        sections=tuple(tuple(readings) for readings in sections.values()),
        settings=_of_trial(store, bead.code) | _of_coupon(tree) | settings_of(bead.settings) | {"order": order},
        order=int(order),
    )


def settings_of(settings: Iterable[Setting]) -> dict[str, float | str]:
    """Settings by id, in the unit of their term; what was read off an instrument before what was set."""
    ranked = sorted(settings, key=lambda one: ORIGINS.index(one.origin))
    return {one.name: one.text if one.value is None else one.value for one in ranked if one.name != "remarks"}


def _of_coupon(tree: Sequence[Entry]) -> dict[str, float | str]:
    told: dict[str, float | str] = {}
    for entry in tree:
        if isinstance(entry.record, Coupon):
            if entry.record.length is not None:
                told["plate_length"] = entry.record.length
            told |= {f"thickness_{one.member}": one.thickness for one in entry.record.plates if one.thickness}
    return told


def _of_trial(store: BookStore, code: str) -> dict[str, float | str]:
    """What holds for all beads of the trial and the heat flow asks for."""
    trial, _ = held(store, code.partition("-")[0], Trial)
    return {"material": trial.material} if trial.material else {}


def own_scatter(store: BookStore, leaving_out: Iterable[str] = ()) -> dict[str, Scatter]:
    """Scatter from bead to bead by dimension, out of beads of one trial that were set alike.

    Parameters
    ----------
    store : the book
    leaving_out : codes of beads that are being compared, so that they do not count twice
    """
    out = set(leaving_out)
    alike: dict[tuple[object, ...], list[dict[str, float]]] = {}
    for entry in _every(store, "bead"):
        if isinstance(entry.record, Bead) and entry.code not in out:
            means = _means(store, entry.code)
            if means:
                alike.setdefault(_set_alike(entry.record), []).append(means)
    names = {name for group in alike.values() for means in group for name in means}
    found = {name: pooled([[m[name] for m in group if name in m] for group in alike.values()]) for name in names}
    return {name: one for name, one in found.items() if one is not None and one.dof >= LEAST_DOF}


def _every(store: BookStore, kind: str) -> Iterable[Entry]:
    after = ""
    while page := store.every(kind, limit=PAGE, after=after):
        yield from page
        after = page[-1].code


def _set_alike(bead: Bead) -> tuple[object, ...]:
    """Trial and everything that was set: beads that share it were meant to be alike."""
    dialled = sorted((one.name, one.value, one.text) for one in bead.settings if one.origin == "set")
    return bead.code.partition("-")[0], tuple(map(str, dialled))


def _means(store: BookStore, code: str) -> dict[str, float]:
    """Mean of each dimension over the sections of a bead."""
    faces: dict[str, dict[str, list[float]]] = {}
    for entry in store.tree(code):
        if isinstance(entry.record, ReadingEdition):
            face = faces.setdefault(parent_code(parent_code(entry.code)), {})
            for one in entry.record.dimensions:
                if one.value is not None:
                    face.setdefault(one.name, []).append(one.value)
    names = {name for face in faces.values() for name in face}
    by_face = {name: [sum(f[name]) / len(f[name]) for f in faces.values() if name in f] for name in names}
    return {name: sum(values) / len(values) for name, values in by_face.items()}


def result_of(store: BookStore, bead: str, response: str) -> Measured | None:
    """Mean of one dimension over the sections of a bead with the u that reading leaves on it; None where not read."""
    faces: dict[str, list[tuple[float, float, str]]] = {}
    for entry in store.tree(bead):
        if isinstance(entry.record, ReadingEdition):
            held = [one for one in entry.record.dimensions if one.name == response and one.value is not None]
            face = parent_code(parent_code(entry.code))
            faces.setdefault(face, []).extend((one.value or 0.0, one.u or 0.0, one.unit) for one in held)
    sections = [section for section in faces.values() if section]
    if not sections:
        return None
    unit = sections[0][0][2]
    values = [tuple(Measured(value=value, u=u, unit=unit) for value, u, _ in section) for section in sections]
    mean = BeadResponse(code=bead, sections=tuple(values))
    return Measured(value=mean.mean, u=mean.u_reading, unit=unit)
