"""What Alembic runs: the steps, on the connection (and in the transaction) that it was handed."""

from __future__ import annotations

from alembic import context

from core.storage.tables import METADATA

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=METADATA, render_as_batch=True, transactional_ddl=True)
with context.begin_transaction():
    context.run_migrations()
