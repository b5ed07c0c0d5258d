"""A table that tells which picture entries hold the same bytes, filled from the newest editions."""

import json

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")


def upgrade() -> None:
    """Make the table and fill it."""
    pictures = op.create_table(
        "pictures",
        sa.Column("code", TEXT, primary_key=True),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("copied_from", sa.Text, nullable=False),
    )
    op.create_index("pictures_by_bytes", "pictures", ["sha256"])
    op.create_index("pictures_by_source", "pictures", ["copied_from"])
    rows = op.get_bind().execute(
        sa.text(
            "SELECT editions.code, editions.body FROM editions JOIN heads "
            "ON heads.code = editions.code AND heads.edition = editions.edition WHERE editions.kind = 'picture'"
        )
    )
    held = [{"code": row.code, **_bytes_of(json.loads(row.body))} for row in rows]
    if held:
        op.bulk_insert(pictures, held)


def _bytes_of(body: dict[str, str]) -> dict[str, str]:
    return {"sha256": body["sha256"], "copied_from": body.get("copied_from", "")}
