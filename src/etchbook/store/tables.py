"""The tables of a book. Rows are added and never changed, but for the heads and what can be reckoned from the rest."""

import sqlalchemy as sa

META = sa.MetaData()

# Codes and words are compared byte by byte everywhere, so that the same range finds the same rows in every database.
TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")

IN_THE_BIN = sa.text("binned <> ''")

book = sa.Table(
    "book",
    META,
    sa.Column("id", sa.Text, primary_key=True),
    sa.Column("name", sa.Text, nullable=False),
)

changes = sa.Table(
    "changes",
    META,
    sa.Column("number", NUMBER, primary_key=True, autoincrement=True),
    sa.Column("by", sa.Text, nullable=False),
    sa.Column("at", sa.Text, nullable=False),
    sa.Column("words", sa.Text, nullable=False),
    sa.Column("undoes", NUMBER, nullable=False),
)

editions = sa.Table(
    "editions",
    META,
    sa.Column("code", TEXT, primary_key=True),
    sa.Column("edition", sa.Integer, primary_key=True),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("change", NUMBER, sa.ForeignKey("changes.number"), nullable=False),
    sa.Column("by", sa.Text, nullable=False),
    sa.Column("at", sa.Text, nullable=False),
    sa.Column("binned", sa.Text, nullable=False),
    sa.Column("body", sa.Text, nullable=False),
    sa.Column("digest", sa.Text, nullable=False),
    sa.Index("editions_of_change", "change"),
)

heads = sa.Table(
    "heads",
    META,
    sa.Column("code", TEXT, primary_key=True),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("parent", TEXT, nullable=False),
    sa.Column("bead", TEXT, nullable=False),
    sa.Column("edition", sa.Integer, nullable=False),
    sa.Column("binned", sa.Text, nullable=False),
    sa.Index("heads_below", "parent", "code"),
    sa.Index("heads_of_kind", "kind", "code"),
    # Only what is in the bin: an index of all would lure the planner into walking through every head that is not.
    sa.Index("heads_binned", "binned", sqlite_where=IN_THE_BIN, postgresql_where=IN_THE_BIN),
    sa.Index("heads_of_bead", "bead"),
)

words = sa.Table(
    "words",
    META,
    sa.Column("word", TEXT, primary_key=True),
    sa.Column("code", TEXT, primary_key=True),
    sa.Index("words_of_code", "code"),
)

numbers = sa.Table(
    "numbers",
    META,
    sa.Column("code", TEXT, primary_key=True),
    sa.Column("name", sa.Text, primary_key=True),
    sa.Column("origin", sa.Text, primary_key=True),
    sa.Column("bead", TEXT, nullable=False),
    sa.Column("value", sa.Double, nullable=False),
    sa.Column("u", sa.Double),
    sa.Index("numbers_by_value", "name", "value", "bead"),
)

documents = sa.Table(
    "documents",
    META,
    sa.Column("sha256", sa.Text, primary_key=True),
    sa.Column("pressed", sa.LargeBinary, nullable=False),
)

originals = sa.Table(
    "originals",
    META,
    sa.Column("sha256", sa.Text, primary_key=True),
    sa.Column("suffix", sa.Text, nullable=False),
    sa.Column("size", NUMBER, nullable=False),
)

pictures = sa.Table(
    "pictures",
    META,
    sa.Column("code", TEXT, primary_key=True),
    sa.Column("sha256", sa.Text, nullable=False),
    sa.Column("copied_from", sa.Text, nullable=False),
    sa.Index("pictures_by_bytes", "sha256"),
    sa.Index("pictures_by_source", "copied_from"),
)

KEPT = (book, changes, editions, heads, documents, originals)
"""Tables that a copy of a book must carry, in an order that keeps references whole."""

RECKONED = (words, numbers, pictures)
"""Tables that can be made again from the newest editions."""

FOR_EVER = ("changes", "editions", "documents", "originals", "book")
"""Tables whose rows the database itself refuses to change or to delete."""
