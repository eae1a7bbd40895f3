"""Every failure has one shape."""

import asyncio

import pytest

from service.web.app import create_app
from service.web.bodies import LARGEST_BODY
from service.web.settings import Settings

JSON = {"content-type": "application/json"}
QUESTION = b'{"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "udds"}, "payload_kg": %s}'


def rows_of(response, status):
    """The rows, after the shape has been checked."""
    assert response.status_code == status
    assert response.headers["content-type"] == "application/json"
    assert set(response.json()) == {"errors"}
    rows = response.json()["errors"]
    assert rows
    for row in rows:
        assert set(row) == {"field", "value", "message", "remedy"}
        assert row["field"]
        assert row["message"]
        assert row["remedy"]
    return rows


def test_bad_values_and_unknown_ids_are_told_together(ask, question):
    bad = question | {"vehicle": {"id": "compact"}, "weather": {"temperature_c": 99}, "cabin": {"occupants": True}}
    rows = rows_of(ask("POST", "/api/quotes", json=bad), 422)
    assert {row["field"] for row in rows} == {"vehicle.id", "weather.temperature_c", "cabin.occupants"}


def test_an_unknown_id_alone_is_told(ask, question):
    (row,) = rows_of(ask("POST", "/api/quotes", json=question | {"vehicle": {"id": "compact-plugin"}}), 422)
    assert row["remedy"] == "did you mean 'compact-plug-in'?"


@pytest.mark.parametrize(
    ("body", "status", "field"),
    [
        (b'{"vehicle":', 400, "body"),
        (b"\xff\xfe{}", 400, "body"),
        (b"[" * 100_000, 400, "body"),
        (b"1" * 5_000, 422, "body"),  # more digits than Python turns into a number
        (b'{"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "udds"}, "journey": {}}', 400, "body"),
        (b'{"vehicle": {"id": "compact-plug-in", "id": "compact-plug-in"}, "journey": {"cycle": "udds"}}', 400, "body"),
        (QUESTION % (b"9" * 5_000), 422, "payload_kg"),
        (QUESTION % (b"-" + b"9" * 100_000), 422, "payload_kg"),
        (b"", 422, "body"),
        (b"null", 422, "body"),
        (b"[1, 2]", 422, "body"),
        (QUESTION % b"NaN", 422, "payload_kg"),
        (b'{"vehicle": {"id": "\\ud800"}, "journey": {"cycle": "udds"}}', 422, "vehicle.id"),
    ],
)
def test_bodies_that_are_no_question(ask, body, status, field):
    assert rows_of(ask("POST", "/api/quotes", content=body, headers=JSON), status)[0]["field"] == field


def test_what_is_no_json_is_told_with_the_place_or_the_reason(ask):
    told = {
        b'{"vehicle": {"id": "compact-plug-in"},\n "journey": }': "line 2, character 13",
        b'{"reserve_km": 1, "reserve_km": 2}': "'reserve_km' stands twice",
        b"[" * 100_000: "too deep",
        b'{"vehicle": "\xff"}': "UTF-8",
    }
    for body, words in told.items():
        (row,) = rows_of(ask("POST", "/api/quotes", content=body, headers=JSON), 400)
        assert words in row["message"]


def test_a_body_of_faults_is_told_by_its_first(ask, question):
    many = {f"name{number}": 1 for number in range(10_000)}
    (row,) = rows_of(ask("POST", "/api/quotes", json=question | many), 400)
    assert "10003 names" in row["message"]
    legs = [{f"name{number}": 1 for number in range(100)} for _ in range(50)]
    rows = rows_of(ask("POST", "/api/quotes", json=question | {"journey": {"legs": legs}}), 422)
    assert len(rows) == 201
    assert rows[-1]["field"] == "body"
    cars = [{"id": f"car{number}"} for number in range(5_000)]
    rows = rows_of(ask("POST", "/api/comparisons", json={"vehicles": cars, "routes": []}), 422)
    assert len(rows) < 100


def test_every_json_body_is_read_strictly(ask, app):
    for path, item in app.openapi()["paths"].items():
        if "application/json" in item.get("post", {}).get("requestBody", {}).get("content", {}):
            (row,) = rows_of(ask("POST", path, content=b'{"units": "us", "units": "us"}', headers=JSON), 400)
            assert "twice" in row["message"]


def test_a_form_that_is_none_is_told_as_one(ask):
    fields = "&".join(f"name{number}=1" for number in range(5_000))
    for path in ("/routes", "/login"):
        form = ask("POST", path, content=fields, headers={"content-type": "application/x-www-form-urlencoded"})
        (row,) = rows_of(form, 400)
        assert "form" in row["message"]


@pytest.mark.parametrize("content_type", [None, "text/plain", "application/x-www-form-urlencoded", "application/jsonx"])
def test_other_types_are_refused(ask, content_type):
    headers = {"content-type": content_type} if content_type else {}
    (row,) = rows_of(ask("POST", "/api/quotes", content=b"{}", headers=headers), 415)
    assert row["value"] == content_type
    assert "application/json" in row["remedy"]


def test_json_may_state_a_charset(ask, question):
    response = ask("POST", "/api/quotes", json=question, headers={"content-type": "application/json; charset=utf-8"})
    assert response.status_code == 200


def test_large_bodies_are_refused_whether_stated_or_streamed(ask):
    async def stream():
        for _ in range(LARGEST_BODY // 1024 + 1):
            yield b" " * 1024

    for body in (b" " * (LARGEST_BODY + 1), stream()):
        (row,) = rows_of(ask("POST", "/api/quotes", content=body, headers=JSON), 413)
        assert "256 kB" in row["message"]


@pytest.mark.parametrize(
    "path", ["/nowhere", "/api", "/api/vehicles/", "/api/vehicles/x", "/static/none.css", "/docs/none"]
)
def test_unknown_paths(ask, path):
    (row,) = rows_of(ask("GET", path), 404)
    assert (row["field"], row["value"]) == ("path", path)


@pytest.mark.parametrize(
    ("method", "path", "allow"),
    [
        ("GET", "/api/quotes", "POST"),
        ("HEAD", "/api/quotes", "POST"),
        ("DELETE", "/api/quotes", "POST"),
        ("POST", "/api/vehicles", "GET, HEAD"),
        ("OPTIONS", "/healthz", "GET, HEAD"),
        ("PUT", "/static/docs.js", "GET, HEAD"),
        ("POST", "/docs", "GET, HEAD"),
        ("PUT", "/", "GET, HEAD, POST"),
    ],
)
def test_wrong_methods_are_told_the_right_ones(ask, method, path, allow):
    response = ask(method, path)
    assert response.status_code == 405
    assert response.headers["allow"] == allow
    if method != "HEAD":
        (row,) = rows_of(response, 405)
        assert allow in row["remedy"]


@pytest.mark.parametrize("path", ["/", "/healthz", "/api/vehicles", "/openapi.json", "/docs", "/static/docs.js"])
def test_head_is_get_without_a_body(ask, path):
    got, head = ask("GET", path), ask("HEAD", path)
    assert head.status_code == got.status_code == 200
    assert head.content == b""
    assert head.headers["content-length"] == got.headers["content-length"]


@pytest.fixture
def broken():
    app = create_app(Settings())

    @app.get("/broken/{token}")
    def fail(token: str):
        raise RuntimeError("a secret of the house")

    return app


def test_own_failures_show_no_trace(ask, broken, caplog):
    response = ask("GET", "/broken/of-one-sheet", to=broken)
    rows_of(response, 500)
    assert "secret" not in response.text
    assert "content-security-policy" in response.headers
    assert "a secret of the house" in caplog.text  # but whoever runs the service can read it
    assert "GET /broken/{token}" in caplog.text
    assert "of-one-sheet" not in caplog.text  # and cannot open what others keep


@pytest.mark.parametrize("path", ["/api/quotes", "/api/tracks", "/routes", "/login"])
def test_who_hangs_up_is_neither_answered_nor_logged(app, caplog, path):
    kinds = {"/api/quotes": JSON["content-type"], "/api/tracks": "text/csv"}
    kind = kinds.get(path, "application/x-www-form-urlencoded")
    given = iter([{"type": "http.request", "body": b"a=", "more_body": True}, {"type": "http.disconnect"}])
    sent = []
    headers = [(b"host", b"127.0.0.1"), (b"content-type", kind.encode()), (b"content-length", b"500")]
    scope = {
        "type": "http", "http_version": "1.1", "method": "POST", "path": path, "raw_path": path.encode(),
        "query_string": b"", "headers": headers, "scheme": "http", "client": ("127.0.0.1", 1), "state": {},
    }  # fmt: skip

    async def receive():
        return next(given)

    async def send(message):
        sent.append(message)

    asyncio.run(app(scope, receive, send))
    assert (sent, caplog.text) == ([], "")
