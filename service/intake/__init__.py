"""Everything that arrives from outside: models shared by form, JSON and command line."""
