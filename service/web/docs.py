"""The description of the JSON side as a page, from this machine only.

Scope    the page's program and style come from the installed package swagger-ui-bundle, its start from our own
         /static/docs.js; no inline script, nothing from another host, the same content policy as everywhere.
"""

from fastapi import APIRouter
from fastapi.responses import FileResponse, HTMLResponse
from starlette.exceptions import HTTPException
from swagger_ui_bundle import swagger_ui_path

__all__ = ["router"]

router = APIRouter(prefix="/docs", include_in_schema=False)
PARTS = ("swagger-ui.css", "swagger-ui-bundle.js", "favicon-32x32.png")  # nothing else of the package is served

PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Rangewright: the JSON side</title>
<link rel="icon" href="/docs/favicon-32x32.png">
<link rel="stylesheet" href="/docs/swagger-ui.css">
<script src="/docs/swagger-ui-bundle.js" defer></script>
<script src="/static/docs.js" defer></script>
</head>
<body>
<main id="description"><noscript>This page needs JavaScript; the same description is at
<a href="/openapi.json">/openapi.json</a>.</noscript></main>
</body>
</html>
"""


@router.get("")
def docs_page() -> HTMLResponse:
    """The page."""
    return HTMLResponse(PAGE)


@router.get("/{part}")
def docs_part(part: str) -> FileResponse:
    """Program or style of the page."""
    if part not in PARTS:
        raise HTTPException(404)
    return FileResponse(swagger_ui_path / part, headers={"Cache-Control": "max-age=86400"})
