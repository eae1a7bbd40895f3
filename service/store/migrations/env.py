"""Read by Alembic: runs the steps on the connection that `database.migrate` hands over, within its transaction."""

from alembic import context

from service.store.tables import METADATA

if hasattr(context, "config"):  # run by Alembic, not merely imported
    context.configure(connection=context.config.attributes["connection"], target_metadata=METADATA)
    context.run_migrations()
