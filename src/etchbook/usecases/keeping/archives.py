"""A trial as an archive that another book can take in: every edition of every record, documents and pictures.

The archive is a set of named files. ``manifest.json`` names the format, the book and the trial and gives the SHA-256 of
every other file; ``editions.jsonl`` has one edition a line; ``documents/`` and ``originals/`` hold the bytes, named by
their SHA-256. Pictures leave without location data; where that changed a picture, its entry says which original it was
made from. docs/archive.md describes it for other programs.
"""

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from etchbook.trials import body_of
from etchbook.trials.records import Coupon, PictureEntry, ReadingEdition, Trial
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore, Entry

FORMAT = "etchbook trial 1"
README = """This is one trial out of a book of etchbook, a program that reads etched weld sections.
manifest.json: format, book, trial, and the SHA-256 of every other file here.
editions.jsonl: every edition of every record, one JSON object a line, oldest first.
documents/: what was read on each picture, as JSON, named by its SHA-256.
originals/: the photographs, named by their SHA-256, without location data.
Take it into another book with: etchbook book import FILE.zip
"""

Scrub = Callable[[bytes, str], bytes]
"""(bytes of a photograph, its name) to the same without location data; files fills it."""


def members(store: BookStore, typed: str, program: str, scrub: Scrub) -> Iterator[tuple[str, bytes]]:
    """The files of a trial's archive, one after the other, the manifest last.

    Parameters
    ----------
    typed : code of the trial
    program : name and version that wrote it
    scrub : takes location data out of a photograph
    """
    trial, _ = held(store, typed, Trial)
    entries = _editions(store, trial)
    hashes: dict[str, str] = {}

    def told(name: str, data: bytes) -> tuple[str, bytes]:
        hashes[name] = hashlib.sha256(data).hexdigest()
        return name, data

    copies: dict[str, str] = {}
    for name, source in _originals(entries):
        data = scrub(store.original(source.sha256), source.name)
        copies[source.sha256] = hashlib.sha256(data).hexdigest()
        yield told(f"originals/{copies[source.sha256]}{name}", data)
    for sha256 in sorted({one.record.document for one in entries if isinstance(one.record, ReadingEdition)}):
        yield told(f"documents/{sha256}.json", store.document(sha256))
    lines = [json.dumps(_line(entry, copies), ensure_ascii=False, sort_keys=True) for entry in entries]
    yield told("editions.jsonl", ("\n".join(lines) + "\n").encode())
    yield told("README.txt", README.encode())
    manifest = {
        "format": FORMAT,
        "book": {"id": store.book.id, "name": store.book.name},
        "trial": {"code": trial.code, "mark": trial.mark, "question": trial.question},
        "program": program,
        "sha256": dict(sorted(hashes.items())),
    }
    yield "manifest.json", (json.dumps(manifest, ensure_ascii=False, indent=1) + "\n").encode()


def _editions(store: BookStore, trial: Trial) -> list[Entry]:
    """Every edition of the trial, of all below it, and of the certificates that its plates refer to."""
    tree = store.tree(trial.code, binned=True)
    plates = [plate for one in tree if isinstance(one.record, Coupon) for plate in one.record.plates]
    codes = sorted({plate.certificate for plate in plates if plate.certificate})
    return [edition for code in (*codes, *(one.code for one in tree)) for edition in store.editions(code)]


def _originals(entries: list[Entry]) -> list[tuple[str, PictureEntry]]:
    """Every photograph once, by its bytes, with the ending of its name."""
    by_bytes = {one.record.sha256: one.record for one in entries if isinstance(one.record, PictureEntry)}
    return [(by_bytes[sha256].suffix, by_bytes[sha256]) for sha256 in sorted(by_bytes)]


def _line(entry: Entry, copies: Mapping[str, str]) -> dict[str, Any]:
    record = entry.record
    if isinstance(record, PictureEntry) and copies[record.sha256] != record.sha256:
        record = replace(record, sha256=copies[record.sha256], copied_from=record.copied_from or record.sha256)
    return {
        "kind": entry.kind,
        "code": entry.code,
        "edition": entry.edition,
        "by": entry.by,
        "at": entry.at,
        "binned": entry.binned,
        "record": body_of(record),
    }
