"""Records as rows and back."""

import hashlib
import json
from typing import Any

from etchbook.trials import body_of, parent_code, record_of
from etchbook.trials.codes import bead_code
from etchbook.trials.records import PictureEntry, Record
from etchbook.usecases.keeping.index import numbers_of, words_of
from etchbook.usecases.keeping.ports import Entry

KIND_OF = {
    "Trial": "trial",
    "Bead": "bead",
    "Coupon": "coupon",
    "Piece": "piece",
    "Face": "face",
    "PictureEntry": "picture",
    "ReadingEdition": "reading",
    "IndicationEntry": "indication",
    "JudgementEntry": "judgement",
    "Certificate": "certificate",
}


def kind_of(record: Record) -> str:
    """The word that names a record's kind."""
    return KIND_OF[type(record).__name__]


def text_of(record: Record) -> str:
    """A record as the text that is kept: the same record always gives the same text."""
    return json.dumps(body_of(record), ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False)


def digest_of(code: str, edition: int, binned: str, text: str) -> str:
    """SHA-256 over all that an edition says, so that a damaged row is known."""
    return hashlib.sha256("\n".join((code, str(edition), binned, text)).encode()).hexdigest()


def entry_of(row: Any) -> Entry:
    """The entry that a row of editions holds."""
    return Entry(
        kind=row.kind,
        code=row.code,
        edition=row.edition,
        record=record_of(row.kind, json.loads(row.body)),
        by=row.by,
        at=row.at,
        change=row.change,
        binned=row.binned,
    )


def head_row(record: Record, edition: int, binned: str) -> dict[str, Any]:
    """The head of a code: which edition holds now."""
    return {
        "code": record.code,
        "kind": kind_of(record),
        "parent": parent_code(record.code),
        "bead": bead_code(record.code),
        "edition": edition,
        "binned": binned,
    }


def word_rows(record: Record) -> list[dict[str, Any]]:
    """What a record is found by."""
    return [{"word": word, "code": record.code} for word in sorted(words_of(record))]


def number_rows(record: Record) -> list[dict[str, Any]]:
    """A record's numbers, the last one where a name and origin came twice."""
    bead = bead_code(record.code)
    rows = {
        (one.name, one.origin): {
            "code": record.code,
            "name": one.name,
            "origin": one.origin,
            "bead": bead,
            "value": one.value,
            "u": one.u,
        }
        for one in numbers_of(record)
    }
    return list(rows.values())


def picture_rows(record: Record) -> list[dict[str, Any]]:
    """Which bytes a picture entry holds."""
    if not isinstance(record, PictureEntry):
        return []
    return [{"code": record.code, "sha256": record.sha256, "copied_from": record.copied_from}]
