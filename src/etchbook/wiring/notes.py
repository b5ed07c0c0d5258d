"""Jobs of the bench written down beside the book, with what was uploaded for them: a restart loses none of them."""

import json
import os
import secrets
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import IO, Any

from etchbook.store.benchnotes import BenchNotes
from etchbook.store.holding import Hold
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.ports import Hand
from etchbook.wiring.benchjobs import Order, ending_of, forget

MOST_BYTES = 120_000_000
DAY = 86_400.0
BLOCK = 1 << 20
UNDER_WAY = ("waiting", "running")


@dataclass(frozen=True, kw_only=True, slots=True)
class Noted:
    """A job as it was written down."""

    id: str
    order: Order
    state: str
    step: str
    result: str
    picture: str
    tries: int


def notes_beside(book: Path) -> BenchNotes:
    """What the benches of a book noted down."""
    return BenchNotes(book)


class JobNotes:
    """The jobs of one bench, on disk.

    Parameters
    ----------
    book : the book's folder
    notes : of the benches of that book
    """

    def __init__(self, book: Path, notes: BenchNotes) -> None:
        self.book = book
        self.notes = notes
        self.uploads = notes.folder / "uploads"
        self.hold = Hold(notes.folder / "running")

    def take_in(self, data: IO[bytes], name: str) -> str:
        """Put a photograph that came onto the disk, under a name of our own; the path where it lies whole."""
        self.uploads.mkdir(mode=0o700, parents=True, exist_ok=True)
        place = self.uploads / f"{secrets.token_hex(12)}{ending_of(name)}"
        part = place.with_name(f"{place.name}.part")
        try:
            with part.open("xb") as out:
                size = _copied(data, out)
                out.flush()
                os.fsync(out.fileno())
            if not size:
                raise RefusedError("the photograph is empty: send it again")
            part.replace(place)
        except OSError as error:
            why = (error.strerror or "the disk refused").lower()
            raise RefusedError(f"the photograph could not be put beside the book ({why}): send it again") from None
        finally:
            part.unlink(missing_ok=True)
        return str(place)

    def write(self, name: str, order: Order, key: str = "") -> str:
        """Write a job down; the name of the job that has this key already, else its own.

        A key says that a caller sends the same upload again; one that named another face is refused.
        """
        wanted = json.dumps(_plain(order))
        if self.notes.add("jobs", id=name, owner=self.hold.name, key=key, code=order.code, wanted=wanted,
                          state="waiting", step="waiting for its turn", result="", picture="", tries=0):  # fmt: skip
            return name
        forget(order.upload)
        before = self.notes.row("jobs", key=key)
        if before is None or before["code"] != order.code:
            where = "" if before is None else f" on {before['code']}"
            raise RefusedError(f"that idempotency key was used for another upload{where}: take a new one for each")
        return str(before["id"])

    def known(self, key: str, code: str) -> str:
        """The job that has this key already on that face, "" where there is none."""
        row = self.notes.row("jobs", key=key, code=code) if key else None
        return "" if row is None else str(row["id"])

    def tell(self, name: str, **told: Any) -> None:
        """Write down how far a job is."""
        self.notes.change("jobs", {"id": name}, **told)

    def get(self, name: str) -> Noted | None:
        """A job as it was written down."""
        row = self.notes.row("jobs", id=name)
        return None if row is None else self._noted(row)

    def newest(self, limit: int, before: str = "") -> list[Noted]:
        """Jobs, the newest first, a page at a time."""
        rows = self.notes.rows("jobs")[::-1]
        names = [row["id"] for row in rows]
        start = names.index(before) + 1 if before in names else 0
        return [self._noted(row) for row in rows[start : start + limit]]

    def left(self) -> list[Noted]:
        """Jobs of benches that ended in the middle of them, from now on ours; uploads that no job owns are swept."""
        found = [row for state in UNDER_WAY for row in self.notes.rows("jobs", state=state)]
        ours = []
        for row in sorted(found, key=lambda row: int(row["number"])):
            owner = str(row["owner"])
            if self.hold.abandoned(owner) and owner != self.hold.name:
                took = self.notes.change("jobs", {"id": row["id"], "owner": owner}, owner=self.hold.name)
                ours += [self._noted(row)] if took else []
        self._sweep({_upload(row) for row in found if not row["picture"]}, {_upload(row) for row in found})
        return ours

    def close(self) -> None:
        """Let go: another bench may take over what is not done."""
        self.hold.release()

    def _noted(self, row: dict[str, Any]) -> Noted:
        order = self._order(json.loads(row["wanted"]))
        if row["picture"] and order.upload:  # it is in the book already
            order = replace(order, code=str(row["picture"]), upload="")
        return Noted(id=row["id"], order=order, state=row["state"], step=row["step"], result=row["result"],
                     picture=row["picture"], tries=row["tries"])  # fmt: skip

    def _order(self, told: dict[str, Any]) -> Order:
        upload = str(self.uploads / told["upload"]) if told["upload"] else ""
        known = {name: value for name, value in told.items() if name in Order.__dataclass_fields__}  # of older programs
        return Order(**{**known, "folder": str(self.book), "hand": Hand(**told["hand"]), "upload": upload})

    def _sweep(self, owned: set[str], known: set[str]) -> None:
        """Remove uploads that are in the book by now, and those of which no job was ever written down."""
        for path in _files(self.uploads):
            if path.name not in owned and (path.name in known or time.time() - path.stat().st_mtime > DAY):
                path.unlink(missing_ok=True)


def _files(folder: Path) -> Iterator[Path]:
    return folder.iterdir() if folder.is_dir() else iter(())


def _upload(row: dict[str, Any]) -> str:
    return str(json.loads(row["wanted"])["upload"])


def _plain(order: Order) -> dict[str, Any]:
    told = asdict(order)
    del told["folder"]  # a book that was moved is still the same book
    return {**told, "upload": Path(order.upload).name if order.upload else ""}


def _copied(data: IO[bytes], out: IO[bytes]) -> int:
    size = 0
    while block := data.read(BLOCK):
        size += len(block)
        if size > MOST_BYTES:
            raise RefusedError(f"a photograph may have at most {MOST_BYTES // 1_000_000} MB")
        out.write(block)
    return size
