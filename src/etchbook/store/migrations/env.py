"""What the migration tool runs: all steps on the one connection it is handed, inside its transaction."""

from alembic import context

from etchbook.store.tables import META

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=META,
    transactional_ddl=True,  # true of SQLite as well, since our engine begins its transactions itself
)
with context.begin_transaction():
    context.run_migrations()
