"""Steps from one shape of the database to the next; run at start, in order, each once."""
