"""Tables that a program or a page downloads: JSON, CSV or a workbook, as it was asked for."""

from collections.abc import Callable
from typing import Annotated, Literal, TypeVar

from fastapi import Header, Query, Request, Response

from service.reporting.table_out import Table
from service.web.files import CSV, WORKBOOK

__all__ = ["TABLES_TOO", "Accept", "Format", "as_asked", "table_response", "table_sent"]

Kind = Literal["json", "csv", "xlsx"]
Format = Annotated[Kind | None, Query(alias="format", description="overrides Accept")]
Accept = Annotated[str, Header()]
Answer = TypeVar("Answer")
TABLES_TOO: dict[int | str, dict[str, object]] = {
    200: {
        "content": {
            CSV: {"schema": {"type": "string"}},
            WORKBOOK: {"schema": {"type": "string", "format": "binary"}},
        }
    }
}
KINDS: dict[str, Kind] = {CSV: "csv", WORKBOOK: "xlsx"}


def as_asked(out: Answer, table_of: Callable[[Answer], Table], form: Kind | None, accept: str) -> Answer | Response:
    """The answer, or its table where that was asked for.

    Args:
        form: as in the query; None: what `accept` names first.
    """
    kind = form or KINDS.get(accept.partition(",")[0].partition(";")[0].strip().lower(), "json")
    return out if kind == "json" else table_response(table_of(out), kind)


def table_sent(request: Request, table: Table) -> Response:
    """The table as the ending of the address says."""
    return table_response(table, "xlsx" if request.url.path.endswith(".xlsx") else "csv")


def table_response(table: Table, kind: Literal["csv", "xlsx"]) -> Response:
    """A file to keep."""
    content, media = (table.workbook(), WORKBOOK) if kind == "xlsx" else (table.csv(), CSV)
    name = {"Content-Disposition": f'attachment; filename="{table.name}.{kind}"'}
    return Response(content, media_type=media, headers=name)
