"""Which edition of the tables a database has, and how it gets today's."""

from importlib.resources import as_file, files

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from etchbook.store import tables as t
from etchbook.store.engines import reading, writing
from etchbook.store.rows import entry_of, number_rows, picture_rows, word_rows
from etchbook.usecases.keeping.errors import BookError

NEWEST = "0002"


def state(engine: sa.Engine) -> str:
    """The edition of the tables, "" where there are none."""
    with reading(engine) as db:
        if not sa.inspect(db).has_table("alembic_version"):
            return ""
        return str(db.execute(sa.text("SELECT version_num FROM alembic_version")).scalar() or "")


def check(engine: sa.Engine, *, name: str) -> None:
    """Refuse a database that is older or newer than this program, saying what would do."""
    found = state(engine)
    if found == NEWEST:
        return
    if found == "":
        raise BookError(f"the database of {name} holds no book; restore a backup")
    if found < NEWEST:
        raise BookError(f"{name} was written by an older etchbook: `etchbook book open` brings it up to date")
    raise BookError(f"{name} was written by a newer etchbook; update etchbook to open it")


def upgrade(engine: sa.Engine, to: str = NEWEST) -> None:
    """Bring the tables to an edition, all steps or none."""
    from alembic import command
    from alembic.config import Config

    with as_file(files("etchbook.store") / "migrations") as folder, writing(engine, alone=True) as db:
        config = Config()
        config.set_main_option("script_location", str(folder).replace("%", "%%"))
        config.attributes["connection"] = db
        try:
            command.upgrade(config, to)
        except DBAPIError:
            raise
        except OSError as error:
            raise BookError(f"the steps that bring a book up to date could not be read ({error})") from error


def reckon_again(engine: sa.Engine) -> None:
    """Make everything that things are found by again from the newest editions."""
    same = sa.and_(t.editions.c.code == t.heads.c.code, t.editions.c.edition == t.heads.c.edition)
    wish = sa.select(t.editions).join(t.heads, same).order_by(t.heads.c.code)
    with writing(engine, alone=True) as db:
        for table in t.RECKONED:
            db.execute(sa.delete(table))
        for rows in db.execute(wish).yield_per(500).partitions():
            records = [entry_of(row).record for row in rows]
            for table, rows_of in ((t.words, word_rows), (t.numbers, number_rows), (t.pictures, picture_rows)):
                made = [one for record in records for one in rows_of(record)]
                if made:
                    db.execute(sa.insert(table), made)
