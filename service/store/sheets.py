"""Keeping sheets: save, open by link, find by number, list, delete, purge.

Scope    synchronous; the web calls it from threads. Acknowledged means on the disk: `save` returns after the commit.
Use      `SheetStore(url)`; its first call brings the database to the present shape.
"""

from dataclasses import asdict, dataclass

from sqlalchemy import delete, func, insert, or_, select
from sqlalchemy.exc import IntegrityError

from service.store.failures import BUSY, StoreAway
from service.store.opened import Opened
from service.store.references import new_reference, new_token
from service.store.tables import SHEETS

__all__ = ["NewSheet", "Sheet", "SheetStore", "Summary"]

TRIES = 20  # for a free number; even with a million sheets kept, one try in ten finds a taken one
MOST_LISTED = 50


@dataclass(frozen=True, slots=True)
class NewSheet:
    """What is to be kept. `question` and `answer` are JSON texts, `page` is finished HTML of our own templates."""

    model_version: str
    title: str
    question: str
    query: str
    answer: str
    page: str
    kind: str = "quote"  # the web knows which there are
    note: str = ""
    lasts_s: int | None = None  # None: until somebody deletes it


@dataclass(frozen=True, slots=True)
class Summary:
    """A line of the list. Times in whole seconds since 1970."""

    token: str
    reference: str
    model_version: str
    saved_at_s: int
    expires_at_s: int | None
    note: str
    title: str
    kind: str


@dataclass(frozen=True, slots=True)
class Sheet(Summary):
    """A sheet as it was kept."""

    question: str
    query: str
    answer: str
    page: str


LINE = tuple(SHEETS.c[name] for name in Summary.__dataclass_fields__)
WHOLE = tuple(SHEETS.c[name] for name in Sheet.__dataclass_fields__)


class SheetStore(Opened):
    """The saved sheets of one database. Every method raises StoreAway where that cannot be used."""

    def save(self, new: NewSheet) -> Sheet:
        """Keep a sheet; it is on the disk when this returns."""
        now_s = int(self._clock())
        fields = asdict(new)
        lasts_s = fields.pop("lasts_s")
        fields |= {"saved_at_s": now_s, "expires_at_s": None if lasts_s is None else now_s + lasts_s}
        for _ in range(TRIES):
            sheet = Sheet(token=new_token(), reference=new_reference(), **fields)
            try:
                self._run(lambda connection, sheet=sheet: connection.execute(insert(SHEETS).values(asdict(sheet))))
            except IntegrityError:  # the number is taken
                continue
            return sheet
        raise StoreAway(*BUSY)

    def open(self, token: str) -> Sheet | None:
        """The sheet of a link; None if there is none, or no longer."""
        return self._one(WHOLE, Sheet, SHEETS.c.token == token)

    def find(self, reference: str) -> Summary | None:
        """The sheet of a number."""
        return self._one(LINE, Summary, SHEETS.c.reference == reference)

    def latest(self) -> list[Summary]:
        """The newest ones first."""
        newest = select(*LINE).where(self._lasting()).order_by(SHEETS.c.saved_at_s.desc(), SHEETS.c.id.desc())
        rows = self._run(lambda connection: connection.execute(newest.limit(MOST_LISTED)).all())
        return [Summary(*row) for row in rows]

    def count(self) -> int:
        """How many there are."""
        how_many = select(func.count()).select_from(SHEETS).where(self._lasting())
        return self._run(lambda connection: connection.execute(how_many).scalar_one())

    def delete(self, token: str) -> bool:
        """Delete for good; False if there is none."""
        this_one = delete(SHEETS).where(SHEETS.c.token == token)
        return self._erase(lambda connection: connection.execute(this_one).rowcount) > 0

    def purge(self) -> int:
        """Delete what has expired; how many."""
        expired = delete(SHEETS).where(SHEETS.c.expires_at_s <= int(self._clock()))
        return self._erase(lambda connection: connection.execute(expired).rowcount)

    def _one(self, columns: tuple, kind: type, condition: object) -> object | None:
        one = select(*columns).where(condition, self._lasting())
        row = self._run(lambda connection: connection.execute(one).one_or_none())
        return None if row is None else kind(*row)

    def _lasting(self) -> object:
        return or_(SHEETS.c.expires_at_s.is_(None), SHEETS.c.expires_at_s > int(self._clock()))
