"""The steps from one form of the catalogue to the next; alembic runs them when a collection is made or opened."""
