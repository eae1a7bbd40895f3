"""Answers made readable: view models, charts, sheets."""
