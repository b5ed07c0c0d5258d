"""Backups and what comes back from them. A backup is a book of its own, with its database always in one file."""

import shutil
from pathlib import Path

import sqlalchemy as sa

from etchbook.store import schema
from etchbook.store import tables as t
from etchbook.store.engines import postgres_engine, reading, sqlite_engine, writing
from etchbook.store.folder import DATABASE, Place, _mark, _without_password, let_go, open_book, place_of, snapshot
from etchbook.store.sql import SqlStore
from etchbook.store.vault import Vault
from etchbook.usecases.keeping.errors import BookError


def backup(folder: Path, target: Path) -> SqlStore:
    """Copy a book as it is at one moment; others may go on writing to it.

    Parameters
    ----------
    folder : the book
    target : folder that is empty or not there yet; it becomes a book of its own

    Returns
    -------
    SqlStore
        The copy, opened, so that it can be verified.
    """
    return _copied(place_of(folder), target, database="")


def restore(source: Path, target: Path, database: str = "") -> SqlStore:
    """A book out of a backup, in another folder, with its database in a file or in an empty PostgreSQL database."""
    return _copied(place_of(source), target, database)


def _copied(place: Place, target: Path, database: str) -> SqlStore:
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise BookError(f"{target} is not an empty folder; choose another place")
    part = target.with_name(f"{target.name}.part")
    if part.exists():
        raise BookError(f"{part} is there from a copy that was stopped; remove it and do it again")
    source = place.engine()
    try:
        schema.check(source, name=place.name)
        part.mkdir(parents=True)
        _fill(place, source, part, database)
        _mark(Place(folder=part, database=_without_password(database) or DATABASE, name=place.name))
        if target.exists():
            target.rmdir()
        part.replace(target)
    except OSError as error:
        shutil.rmtree(part, ignore_errors=True)
        why = (error.strerror or "the disk refused").lower()
        raise BookError(f"the copy could not be written to {target} ({why}); nothing is left of it") from None
    except BaseException:
        shutil.rmtree(part, ignore_errors=True)
        raise
    finally:
        source.dispose()
    return open_book(target)


def _fill(place: Place, source: sa.Engine, part: Path, database: str) -> None:
    """The database first: every original that it names was in its place before, and originals never go."""
    Vault(part).make()
    if place.on_disk and not database:
        snapshot(source, part / DATABASE)
        engine = sqlite_engine(part / DATABASE)
    else:
        engine = postgres_engine(database) if database else sqlite_engine(part / DATABASE)
        with let_go(engine):
            if database and schema.state(engine):
                raise BookError("that database holds a book already; restore into an empty one")
            schema.upgrade(engine)
            _pour(source, engine)
            schema.reckon_again(engine)
    with let_go(engine), reading(engine) as db:
        rows = db.execute(sa.select(t.originals)).all()
    engine.dispose()
    for row in rows:
        _copy_original(Vault(place.folder), Vault(part), row.sha256, row.suffix)
    _copy_own_limits(place.folder, part)


def _copy_own_limits(old: Path, new: Path) -> None:
    """The shop's own limits lie beside the database as files, those in the bin one folder further."""
    for folder in (Path("limits"), Path("limits", "bin")):
        for path in sorted((old / folder).glob("*.toml")):
            (new / folder).mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, new / folder / path.name)


def _copy_original(old: Vault, new: Vault, sha256: str, suffix: str) -> None:
    target = new.path(sha256, suffix)
    target.parent.mkdir(exist_ok=True)
    path = old.path(sha256, suffix)
    if path.exists():  # a lost picture must not keep the rest from being saved; verify names it
        shutil.copyfile(path, target)
        target.chmod(0o444)


def _pour(source: sa.Engine, target: sa.Engine) -> None:
    """Every row that is kept, out of one state of the source."""
    with reading(source) as old, writing(target, alone=True) as new:
        for table in t.KEPT:
            for rows in old.execute(sa.select(table)).yield_per(500).mappings().partitions():
                new.execute(sa.insert(table), [dict(row) for row in rows])
        if target.dialect.name == "postgresql":  # numbers go on after the last one that was poured in
            last = sa.select(sa.func.max(t.changes.c.number)).scalar_subquery()
            where = sa.func.pg_get_serial_sequence("changes", "number")
            new.execute(sa.select(sa.func.setval(where, sa.func.coalesce(last, 1))))
