"""Cells of a comparison as text and back, to the last bit: JSON writes a double so that it reads as the same one."""

import json
from dataclasses import asdict

from service.fleet.answer import Cell, Verdict

__all__ = ["cells_from", "cells_text"]


def cells_text(cells: list[Cell]) -> str:
    """As JSON."""
    return json.dumps([asdict(cell) for cell in cells])


def cells_from(text: str) -> list[Cell]:
    """The same cells again.

    >>> cells_from(cells_text([]))
    []
    """
    return [Cell(**{**each, "verdict": Verdict(each["verdict"])}) for each in json.loads(text)]
