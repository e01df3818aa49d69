"""PocketSphinx, and what only it needs."""
