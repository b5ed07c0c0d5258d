"""The first tables: changes, editions and heads, what things are found by, documents and originals."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
FOR_EVER = ("changes", "editions", "documents", "originals", "book")


def upgrade() -> None:
    """Make an empty book."""
    _history()
    _found_by()
    _kept_beside()
    for table in FOR_EVER:
        _refuse_changes(table)


def _history() -> None:
    op.create_table("book", sa.Column("id", sa.Text, primary_key=True), sa.Column("name", sa.Text, nullable=False))
    op.create_table(
        "changes",
        sa.Column("number", NUMBER, primary_key=True, autoincrement=True),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("undoes", NUMBER, nullable=False),
    )
    op.create_table(
        "editions",
        sa.Column("code", TEXT, primary_key=True),
        sa.Column("edition", sa.Integer, primary_key=True),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("change", NUMBER, sa.ForeignKey("changes.number"), nullable=False),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("binned", sa.Text, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("digest", sa.Text, nullable=False),
    )
    op.create_index("editions_of_change", "editions", ["change"])
    op.create_table(
        "heads",
        sa.Column("code", TEXT, primary_key=True),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("parent", TEXT, nullable=False),
        sa.Column("bead", TEXT, nullable=False),
        sa.Column("edition", sa.Integer, nullable=False),
        sa.Column("binned", sa.Text, nullable=False),
    )
    op.create_index("heads_below", "heads", ["parent", "code"])
    op.create_index("heads_of_kind", "heads", ["kind", "code"])
    in_the_bin = sa.text("binned <> ''")
    op.create_index("heads_binned", "heads", ["binned"], sqlite_where=in_the_bin, postgresql_where=in_the_bin)
    op.create_index("heads_of_bead", "heads", ["bead"])


def _found_by() -> None:
    op.create_table("words", sa.Column("word", TEXT, primary_key=True), sa.Column("code", TEXT, primary_key=True))
    op.create_index("words_of_code", "words", ["code"])
    op.create_table(
        "numbers",
        sa.Column("code", TEXT, primary_key=True),
        sa.Column("name", sa.Text, primary_key=True),
        sa.Column("origin", sa.Text, primary_key=True),
        sa.Column("bead", TEXT, nullable=False),
        sa.Column("value", sa.Double, nullable=False),
        sa.Column("u", sa.Double),
    )
    op.create_index("numbers_by_value", "numbers", ["name", "value", "bead"])


def _kept_beside() -> None:
    op.create_table(
        "documents",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("pressed", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "originals",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("suffix", sa.Text, nullable=False),
        sa.Column("size", NUMBER, nullable=False),
    )


def _refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or delete what was written."""
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'the book is append only'); END"
            )
        return
    op.execute(
        "CREATE OR REPLACE FUNCTION etchbook_append_only() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'the book is append only'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {table}_append_only BEFORE UPDATE OR DELETE ON {table} "
        "FOR EACH ROW EXECUTE FUNCTION etchbook_append_only()"
    )
