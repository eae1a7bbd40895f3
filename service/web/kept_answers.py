"""Answers kept in memory by what was asked, so that the same question is worked out once.

Key      a hash of the route, of the question as it was understood (numbers as numbers, order of names gone, defaults
         that were left out still left out, because an answer lists them), and of the model's version.
Bounds   entries and bytes; the one not asked for longest goes first.
"""

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import Response
from pydantic import BaseModel

from service.reporting.answers import MODEL_VERSION

__all__ = ["KeptAnswer", "KeptAnswers", "key_of"]

MOST_ENTRIES = 2_000
LARGEST_SHARE = 4  # an answer larger than a quarter of the room is not kept


@dataclass(frozen=True, slots=True)
class KeptAnswer:
    """What was sent."""

    body: bytes
    media_type: str
    headers: tuple[tuple[str, str], ...] = ()

    def response(self) -> Response:
        """The same again."""
        return Response(self.body, media_type=self.media_type, headers=dict(self.headers))


class KeptAnswers:
    """The answers of one process; used from several threads."""

    def __init__(self, most_bytes: int, most_entries: int = MOST_ENTRIES) -> None:
        self.most_bytes, self.most_entries = most_bytes, most_entries
        self.bytes = 0
        self._held: OrderedDict[str, KeptAnswer] = OrderedDict()
        self._lock = threading.Lock()

    def __len__(self) -> int:
        return len(self._held)

    def get(self, key: str) -> KeptAnswer | None:
        """The answer, if it is still there."""
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
            return self._held.get(key)

    def put(self, key: str, answer: KeptAnswer) -> None:
        """Keep one; others go if there is no room."""
        size = len(answer.body)
        if size * LARGEST_SHARE > self.most_bytes:
            return
        with self._lock:
            known = self._held.pop(key, None)
            self.bytes += size - (len(known.body) if known else 0)
            self._held[key] = answer
            while self.bytes > self.most_bytes or len(self._held) > self.most_entries:
                self.bytes -= len(self._held.popitem(last=False)[1].body)


def key_of(path: str, given: Mapping[str, object]) -> str | None:
    """The key of a call, by the names of what its route is given; None for one that asks by more than its question.

    >>> key_of("/api/quotes", {"request": object()}) is None
    True
    """
    parts, asked = [path, MODEL_VERSION], False
    for name in sorted(given):
        value = given[name]
        if isinstance(value, BaseModel):
            parts.append(f"{name}={value.model_dump_json(exclude_unset=True)}")
            asked = True
        elif value is None or isinstance(value, str | int | float | bool):
            parts.append(f"{name}={value!r}")
        else:
            return None
    return hashlib.sha256("\n".join(parts).encode()).hexdigest() if asked else None
