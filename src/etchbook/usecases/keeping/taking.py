"""Taking a trial out of an archive into this book, all of it or nothing, without treading on what is there."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Protocol

from etchbook.trials import BodyError, body_of, code_kind, normal_code, record_of
from etchbook.trials.records import Certificate, PictureEntry, ReadingEdition, Record, Trial
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.archives import FORMAT
from etchbook.usecases.keeping.looking import next_number
from etchbook.usecases.keeping.ports import BookStore, Change, Hand, Original, Write

CODES = frozenset({"code", "beads", "certificate", "parent", "other", "towards"})
"""Fields of records that hold codes."""


class Archive(Protocol):
    """Named files out of an archive; a name that is not there is refused in a sentence."""

    def read(self, name: str) -> bytes:
        """The bytes of one file."""
        ...

    def names(self) -> tuple[str, ...]:
        """The names of all files."""
        ...


@dataclass(frozen=True, kw_only=True, slots=True)
class Arrival:
    """What came into the book: the trial's code here, its code in the archive, how many records and pictures."""

    code: str
    was: str
    records: int
    pictures: int


def take_in(store: BookStore, hand: Hand, archive: Archive, *, as_code: str = "") -> Arrival:
    """Take a trial into the book.

    Parameters
    ----------
    archive : made by `archives.members`, in this book or in another
    as_code : code that the trial is to have here; "" keeps its own where that is free, and else takes the next
        free number with the same letters

    Returns
    -------
    Arrival
        A trial that is here already is refused, unless it is to come in once more under another code.
    """
    manifest = _manifest(archive)
    _whole(archive, manifest)
    was = str(manifest["trial"]["code"])
    lines = [_parsed(line, was) for line in _text(archive.read("editions.jsonl")).splitlines()]
    _in_order(lines)
    code = _code_here(store, was, str(manifest["trial"]["mark"]), as_code)
    certificates, old = _certificates(store, lines)

    def here(typed: str) -> str:
        if typed.startswith("CERT-"):
            return certificates.get(typed, typed)
        head, dash, tail = typed.partition("-")
        return f"{code}{dash}{tail}" if head == was else typed

    writes = [_write(line, here) for line in lines if line["code"] not in old]
    if as_code:
        writes = [_marked(write, f"{manifest['trial']['mark']}:{code}") for write in writes]
    records = [write.record for write in writes]
    originals = {one.sha256: _original(archive, one) for one in records if isinstance(one, PictureEntry)}
    documents = {one.document: _document(archive, one.document) for one in records if isinstance(one, ReadingEdition)}
    told = f"took in trial {code} from the book {manifest['book']['name']}, where it is {was}"
    store.keep(Change(hand=hand, words=told, writes=writes, documents=documents, originals=originals))
    return Arrival(code=code, was=was, records=len({one.code for one in records}), pictures=len(originals))


def _manifest(archive: Archive) -> dict[str, Any]:
    try:
        manifest = json.loads(archive.read("manifest.json"))
        if manifest["format"] != FORMAT:
            raise RefusedError(f'the archive is of the format "{manifest["format"]}", not "{FORMAT}"; update etchbook')
        sound = isinstance(manifest["sha256"], dict) and all(
            isinstance(text, str)
            for text in (manifest["trial"]["code"], manifest["trial"]["mark"], manifest["book"]["name"])
        )
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        if isinstance(error, RefusedError):
            raise
        sound = False
    if not sound or normal_code(manifest["trial"]["code"]) != manifest["trial"]["code"]:
        raise RefusedError("the archive's manifest.json makes no sense; have it made again with `etchbook book export`")
    held: dict[str, Any] = manifest
    return held


def _whole(archive: Archive, manifest: Mapping[str, Any]) -> None:
    """Refuse an archive of which a file is missing, damaged, or there without being named."""
    named = manifest["sha256"]
    astray = set(archive.names()) - set(named) - {"manifest.json"}
    if astray:
        raise RefusedError(
            f"the archive holds {sorted(astray)[0]}, which its manifest does not name; it was not taken in"
        )
    for name, sha256 in named.items():
        if hashlib.sha256(archive.read(name)).hexdigest() != sha256:
            raise RefusedError(f"{name} in the archive is damaged; it was not taken in: copy the archive again")


def _text(data: bytes) -> str:
    try:
        return data.decode()
    except UnicodeDecodeError:
        raise RefusedError("editions.jsonl in the archive is not UTF-8; it was not taken in") from None


def _parsed(text: str, trial: str) -> dict[str, Any]:
    """One edition; nothing but the trial itself, what is below it, and certificates may come in."""
    try:
        line = json.loads(text)
        record = record_of(line["kind"], line["record"])
        code = normal_code(record.code)
        inside = code.partition("-")[0] == trial or line["kind"] == "certificate"
        if not (code == record.code == line["code"] and code_kind(code) == line["kind"] and inside):
            raise BodyError(f'"{line["code"]}" cannot stand in it')
        if type(line["edition"]) is not int or line["edition"] < 1:
            raise BodyError("its edition is no number")
        return {**line, "record": record, "by": str(line["by"]), "at": str(line["at"]), "binned": str(line["binned"])}
    except (ValueError, KeyError, TypeError) as error:
        raise RefusedError(f"a record in the archive makes no sense ({error}); it was not taken in") from None


def _in_order(lines: list[dict[str, Any]]) -> None:
    """Refuse an archive in which an edition is missing or comes too early."""
    last: dict[str, int] = {}
    for line in lines:
        if line["edition"] != last.get(line["code"], 0) + 1:
            raise RefusedError(f"an edition of {line['code']} is missing in the archive; it was not taken in")
        last[line["code"]] = line["edition"]
    if not any(isinstance(line["record"], Trial) for line in lines):
        raise RefusedError("the archive holds no trial; it was not taken in")


def _code_here(store: BookStore, was: str, mark: str, as_code: str) -> str:
    taken = store.taken("")
    same = [one for one in taken if _mark_of(store, one) == mark]
    if as_code:
        code = normal_code(as_code)
        if code_kind(code) != "trial":
            raise RefusedError(f"{code} is the code of a {code_kind(code)}; a trial is called like N1")
        if code in taken:
            raise RefusedError(f"there is a trial {code} in the book already; choose another code")
        return code
    held = store.entry(same[0]) if same else None
    if held is not None and held.binned:
        raise RefusedError(
            f"that trial lies in the bin as {held.code}; `etchbook bin {held.code} --back` brings it back"
        )
    if same:
        raise RefusedError(f"that trial is in the book already, as {same[0]}; --as CODE takes it in once more")
    if was not in taken:
        return was
    letters = was.rstrip("0123456789")
    return f"{letters}{next_number(taken, letters)}"


def _mark_of(store: BookStore, code: str) -> str:
    entry = store.entry(code)
    return entry.record.mark if entry is not None and isinstance(entry.record, Trial) else ""


def _certificates(store: BookStore, lines: list[dict[str, Any]]) -> tuple[dict[str, str], set[str]]:
    """New codes of the archive's certificates, and those of them that the book has already, word for word."""
    newest = {line["code"]: line["record"] for line in lines if isinstance(line["record"], Certificate)}
    have = [one.record for one in store.every("certificate", limit=10_000)]
    number = next_number([one for one in store.taken("") if one.startswith("CERT-")], "CERT-")
    codes: dict[str, str] = {}
    old: set[str] = set()
    for code, record in newest.items():
        same = [one for one in have if replace(record, code=one.code) == one]
        if same:
            codes[code] = same[0].code
            old.add(code)
        else:
            codes[code] = f"CERT-{number}"
            number += 1
    return codes, old


def _write(line: Mapping[str, Any], here: Callable[[str], str]) -> Write:
    record = record_of(line["kind"], _recoded(body_of(line["record"]), here))
    return Write(record=record, expects=line["edition"] - 1, binned=line["binned"], by=line["by"], at=line["at"])


def _recoded(value: Any, here: Callable[[str], str], *, is_code: bool = False) -> Any:
    if isinstance(value, dict):
        return {key: _recoded(item, here, is_code=key in CODES) for key, item in value.items()}
    if isinstance(value, list):
        return [_recoded(item, here, is_code=is_code) for item in value]
    return here(value) if is_code and isinstance(value, str) else value


def _marked(write: Write, mark: str) -> Write:
    record: Record = write.record
    return replace(write, record=replace(record, mark=mark)) if isinstance(record, Trial) else write


def _original(archive: Archive, entry: PictureEntry) -> Original:
    data = archive.read(f"originals/{entry.sha256}{entry.suffix}")
    if hashlib.sha256(data).hexdigest() != entry.sha256:
        raise RefusedError(f"the picture of {entry.code} in the archive is another than it says; it was not taken in")
    return Original(data=data, suffix=entry.suffix)


def _document(archive: Archive, sha256: str) -> bytes:
    data = archive.read(f"documents/{sha256}.json")
    if hashlib.sha256(data).hexdigest() != sha256:
        raise RefusedError("a reading in the archive is another than it says; it was not taken in")
    return data
