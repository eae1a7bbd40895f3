"""The tables as the program sees them; `migrations` makes them.

Times    whole seconds since 1970, UTC: the same in every database.
Texts    question and answer are JSON texts, kept letter by letter, so that an old answer leaves as it came.
"""

from sqlalchemy import BigInteger, Column, Integer, MetaData, String, Table, Text

__all__ = ["METADATA", "SHEETS"]

METADATA = MetaData()
SHEETS = Table(
    "sheets",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("token", String(32), nullable=False, unique=True),
    Column("reference", String(9), nullable=False, unique=True),
    Column("model_version", String(20), nullable=False),
    Column("saved_at_s", BigInteger, nullable=False, index=True),
    Column("expires_at_s", BigInteger, index=True),
    Column("note", String(200), nullable=False),
    Column("title", String(300), nullable=False),
    Column("question", Text, nullable=False),  # JSON as for POST /api/quotes
    Column("query", Text, nullable=False),  # the same question as the page's link; empty if it came as JSON
    Column("answer", Text, nullable=False),  # JSON as from POST /api/quotes
    Column("page", Text, nullable=False),  # the finished part of the page: what was printed
)
