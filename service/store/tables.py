"""The tables as the program sees them; `migrations` makes them.

Times    seconds since 1970, UTC: the same in every database; whole ones for people, with parts for leases and rates.
Texts    question and answer are JSON texts, kept letter by letter, so that an old answer leaves as it came.
"""

from sqlalchemy import BigInteger, Column, Double, ForeignKey, Integer, MetaData, String, Table, Text

__all__ = ["CHUNKS", "JOBS", "METADATA", "SHEETS"]

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
    Column("question", Text, nullable=False),  # JSON as programs ask a question of this kind
    Column("query", Text, nullable=False),  # the same question as a filled form; empty if it came as JSON
    Column("answer", Text, nullable=False),  # JSON as programs get it
    Column("page", Text, nullable=False),  # the finished part of the page: what was printed
    Column("kind", String(30), nullable=False, server_default="quote"),  # which page answers such questions
)
JOBS = Table(
    "jobs",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("token", String(32), nullable=False, unique=True),
    Column("kind", String(30), nullable=False),
    Column("question", Text, nullable=False),  # JSON; its kind knows of what
    Column("model_version", String(20), nullable=False),  # of the chunks that are there
    Column("state", String(10), nullable=False, index=True),
    Column("done", Integer, nullable=False),  # chunks
    Column("total", Integer, nullable=False),
    Column("tries", Integer, nullable=False),  # since a chunk was finished last
    Column("owner", String(80), nullable=False),  # who works on it; empty: nobody
    Column("leased_until_s", Double, nullable=False),
    Column("begun_at_s", Double, nullable=False),  # by the present owner
    Column("begun_with", Integer, nullable=False),  # chunks that were there then
    Column("changed_at_s", Double, nullable=False),
    Column("expires_at_s", BigInteger, nullable=False, index=True),
    Column("answer", Text, nullable=False),
    Column("errors", Text, nullable=False),  # JSON list of rows; empty unless it failed
)
CHUNKS = Table(
    "job_chunks",
    METADATA,
    Column("job_id", Integer, ForeignKey("jobs.id"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("owner", String(80), nullable=False),  # who finished it
    Column("result", Text, nullable=False),
)
