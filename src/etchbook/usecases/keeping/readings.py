"""Readings, indications and judgements in the book. A correction makes a new edition; the old one stays."""

import hashlib
import math
from collections.abc import Sequence
from dataclasses import replace

from etchbook.acceptance.records import Judgement
from etchbook.quantity import Absent
from etchbook.section import Reading
from etchbook.trials import code_kind, normal_code
from etchbook.trials.records import (
    Answer,
    Dimension,
    FindingEntry,
    IndicationEntry,
    JudgementEntry,
    PictureEntry,
    ReadingEdition,
)
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import held, next_number, write_next
from etchbook.usecases.keeping.ports import BookStore, Change, Entry, Hand, Write


def keep_reading(
    store: BookStore, hand: Hand, picture: str, reading: Reading, document: bytes, *, expects: int | None = None
) -> tuple[ReadingEdition, int]:
    """Save what was read on a picture of the book.

    A second reading of the same joint on the same picture becomes the next edition of the first; the very
    same reading is not saved twice.

    Parameters
    ----------
    picture : code of the picture
    document : the reading as JSON; it is kept whole
    expects : the edition of the reading that the person corrected, 0 for none yet; another one is refused

    Returns
    -------
    (ReadingEdition, int)
        The record and the number of its edition.
    """
    entry, _ = held(store, picture, PictureEntry)
    if reading.picture.sha256 and reading.picture.sha256 not in (entry.sha256, entry.copied_from):
        raise RefusedError(f"that reading was made on another photograph than {entry.code}")
    sha256 = hashlib.sha256(document).hexdigest()

    def make() -> Change | Sequence[Write]:
        old = _same_joint(store, entry.code, reading)
        if old is not None and isinstance(old.record, ReadingEdition) and old.record.document == sha256:
            return ()
        code = old.code if old else f"{entry.code}-R{next_number(store.taken(entry.code), f'{entry.code}-R')}"
        edition = old.edition if old else 0
        if expects is not None and edition != expects:
            raise RefusedError(f"{code} was read again meanwhile (edition {edition}, you saw {expects}); look again")
        record = _edition_of(code, sha256, entry.sha256, reading)
        writes = [Write(record=record, expects=edition), *_indications(store, code, edition + 1, reading)]
        return Change(hand=hand, words="", writes=writes, documents={sha256: document})

    words = f"read {{}} ({'corrected' if reading.marks else 'automatic'})"
    written = write_next(store, hand, words, make)
    if written:
        made = written[0].record
        assert isinstance(made, ReadingEdition)
        return made, written[0].expects + 1
    kept = _same_joint(store, entry.code, reading)
    assert kept is not None and isinstance(kept.record, ReadingEdition)
    return kept.record, kept.edition


def _same_joint(store: BookStore, picture: str, reading: Reading) -> Entry | None:
    for entry in store.below(picture, "reading"):
        if isinstance(entry.record, ReadingEdition) and entry.record.family == reading.joint.family:
            return entry
    return None


def _edition_of(code: str, document: str, picture: str, reading: Reading) -> ReadingEdition:
    dimensions = []
    for name, value in reading.dimensions.items():
        if isinstance(value, Absent):
            dimensions.append(Dimension(name=name, absent=value.reason))
        else:
            dof = None if math.isinf(value.dof) else value.dof
            dimensions.append(Dimension(name=name, value=value.value, u=value.u, dof=dof, unit=value.unit))
    return ReadingEdition(
        code=code,
        document=document,
        picture=picture,
        made="corrected" if reading.marks else "automatic",
        program=reading.program,
        family=reading.joint.family,
        dimensions=tuple(dimensions),
        doubts=tuple(f"{doubt.part}: {doubt.reason}" for doubt in reading.doubts),
    )


def _indications(store: BookStore, code: str, edition: int, reading: Reading) -> list[Write]:
    """An entry for each indication; answers that were given about it go on."""
    writes = []
    for number, indication in enumerate(reading.indications, start=1):
        name = f"{code}-X{number}"
        old = store.entry(name)
        if old is not None and isinstance(old.record, IndicationEntry):
            record = replace(old.record, where=str(indication.where), edition=edition)
        else:
            record = IndicationEntry(code=name, where=str(indication.where), edition=edition)
        writes.append(Write(record=record, expects=old.edition if old else 0))
    return writes


def keep_judgement(
    store: BookStore, hand: Hand, typed: str, judgement: Judgement, *, against: str, edition: int = 0
) -> JudgementEntry:
    """Save what a reading was judged against and what came out of it.

    Parameters
    ----------
    typed : code of the reading
    against : name of the set of limits
    edition : of the reading; 0 is the newest
    """
    reading, newest = held(store, typed, ReadingEdition)
    findings = tuple(
        FindingEntry(verdict=str(one.verdict), item=one.limit.number, dimension=one.dimension, words=one.words)
        for one in judgement.findings
    )

    def make() -> Sequence[Write]:
        number = next_number(store.taken(reading.code), f"{reading.code}-J")
        record = JudgementEntry(
            code=f"{reading.code}-J{number}",
            edition=edition or newest,
            against=against,
            title=judgement.title,
            risk=judgement.risk,
            findings=findings,
        )
        return [Write(record=record, expects=0)]

    made = write_next(store, hand, f"judged {reading.code} against {against}", make)[0].record
    assert isinstance(made, JudgementEntry)
    return made


def answer(store: BookStore, hand: Hand, typed: str, check: str, told: str) -> IndicationEntry:
    """Add an answer about an indication: which check was made and what came out of it."""
    code = normal_code(typed)
    if code_kind(code) != "indication":
        raise RefusedError(
            f"{code} is the code of a {code_kind(code)}; answers belong to an indication, like ...-R1-X1"
        )
    entry, edition = held(store, code, IndicationEntry)
    given = Answer(check=check, answer=told, by=hand.by, at=hand.at)
    changed = replace(entry, answers=(*entry.answers, given))
    write_next(store, hand, "answered about {}", lambda: [Write(record=changed, expects=edition)])
    return changed
