"""The whole description, asked at random: nothing fails, every answer is as described, nothing wrong is accepted.

Ways to ask an operation: bodies drawn from its schema, bodies drawn against it, and good ones (its own examples, a
file, a link to something kept) with a few parts changed, which reach further into the service. Each operation must
have given answers of success, too: one that only refuses has not been tested. The seed is fixed. A short run belongs
to every test run; `pytest -m fuzz tests/web/test_openapi.py` asks 20 000 times.

One check of the tool is left out: that every body which fits the schema is answered. Rules across fields (exactly one
of two, ids that the catalogue holds) cannot be written in a schema, and are refused with 422. And it does not know
that a body too large (413) has been refused, too.
"""

import copy
import json
import logging
import math
import time
from collections import Counter

import pytest
import schemathesis
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.python import asgi
from schemathesis.specs.openapi.checks import negative_data_rejection, positive_data_acceptance

from service.store import jobs
from service.web import comparison_jobs_api
from service.web.app import create_app
from service.web.settings import Settings
from tests.web.drawn import FILES, QUERIES, TOKENS, altered, altered_text, at_random, places

FEW, MANY = 5, 20_000  # examples of an operation and way; requests in all
SPARE = 1.1  # some ways have fewer different requests to draw
PATIENCE_S = 60
KEPT = {"/api/sheets", "/api/comparison-jobs"}  # need a store, which that service has not
METHODS = {"get", "put", "post", "delete", "options", "patch", "trace"}
DESCRIPTION = create_app(Settings()).openapi()
OPERATIONS = [
    (method, path) for path, item in DESCRIPTION["paths"].items() for method in item if method in METHODS
]  # fmt: skip
WITH_INPUT = [
    (method, path)
    for method, path in OPERATIONS
    if {"parameters", "requestBody"} & DESCRIPTION["paths"][path][method].keys()
]
MET = Counter()  # operation and status: how often


@pytest.fixture(scope="module")
def asked(start, tmp_path_factory):
    """The description and a client of a service with a store, which works on its long comparisons."""
    patched = pytest.MonkeyPatch()
    patched.setattr(jobs, "MOST_WAITING", MANY)  # a full line is no fault
    patched.setattr(comparison_jobs_api, "LONGEST_STREAM_S", 0.1)
    app = start(Settings(database=str(tmp_path_factory.mktemp("kept") / "sheets.sqlite3")))
    app.state.long_work.start(app.state.catalogue)

    async def here(scope, receive, send):
        """The tool names a host of its own; this service answers to its own alone."""
        if scope["type"] == "http":
            headers = [(name, value) for name, value in scope["headers"] if name != b"host"]
            scope = {**scope, "headers": [*headers, (b"host", b"127.0.0.1:8000")]}
        await app(scope, receive, send)

    level = logging.getLogger("rangewright").level
    logging.getLogger("rangewright").setLevel(logging.CRITICAL)
    with asgi.get_client(here) as client:
        yield schemathesis.openapi.from_asgi("/openapi.json", here), client
    app.state.long_work.close()
    logging.getLogger("rangewright").setLevel(level)
    patched.undo()


def send(case, client):
    reply = case.call(session=client, timeout=PATIENCE_S)  # the tool's own 10 s are short on a busy machine
    MET[case.method.lower(), case.path, reply.status_code] += 1
    unknown_to_it = [negative_data_rejection] if reply.status_code == 413 else []
    case.validate_response(reply, excluded_checks=[positive_data_acceptance, *unknown_to_it])


def by_every_way(asked, method, path, requests):
    """So many requests of one operation, shared among the ways to ask it; whether one succeeded."""
    schema, client = asked
    operation = schema[path][method.upper()]
    ways = [(1, operation.as_strategy(generation_mode=mode), lambda case: case) for mode in GenerationMode]
    if examples_of(method, path):
        ways.append((2, *by_example(operation, method, path)))
    if path in FILES:
        ways.append((2, altered_text(FILES[path]), lambda file: operation.Case(media_type=file[0], body=file[1])))
    if path in QUERIES:
        ways.append((2, QUERIES[path], lambda query: operation.Case(query=query)))
    if "{token}" in path:
        ways.append((2, *by_link(operation, path, client)))
    shares = sum(share for share, *_ in ways)
    for share, strategy, case_of in ways:
        at_random(strategy, math.ceil(requests * share / shares), lambda drawn, of=case_of: send(of(drawn), client))
    return any(each[:2] == (method, path) and each[2] < 300 for each in MET)


def by_example(operation, method, path):
    """Its examples altered, as JSON or a table where there is one."""
    names = {each["name"] for each in DESCRIPTION["paths"][path][method].get("parameters", ())}
    queries = [{}, {"format": "csv"}, {"format": "json"}] if "format" in names else [{}]

    def case_of(drawn):
        return operation.Case(query=drawn[0], body=drawn[1], media_type="application/json")

    return st.tuples(st.sampled_from(queries), altered(examples_of(method, path))), case_of


def by_link(operation, path, client):
    """Something new that is kept, just begun or over, and links to nothing."""
    collection = path.partition("/{")[0]
    example = examples_of("post", collection)[0]
    takes_body = "requestBody" in DESCRIPTION["paths"][path][operation.method]
    sent = {"body": {}, "media_type": "application/json"} if takes_body else {}

    def case_of(drawn):
        over, token, _ = drawn
        if token is None:
            token = client.post(collection, json=example).json()["link_path"].rpartition("/")[2]
        if over and collection == "/api/comparison-jobs":
            wait_for(client, f"{collection}/{token}")
        return operation.Case(path_parameters={"token": token}, **sent)

    return st.tuples(st.booleans(), st.none() | TOKENS, st.integers()), case_of  # each draw another, though it be none


def wait_for(client, path):
    ends_s = time.monotonic() + PATIENCE_S
    while client.get(path).json().get("state") in ("waiting", "running") and time.monotonic() < ends_s:
        time.sleep(0.02)


def examples_of(method, path):
    """The bodies that the description shows."""
    content = DESCRIPTION["paths"][path].get(method, {}).get("requestBody", {}).get("content", {})
    given = content.get("application/json", {}).get("examples", {})
    return [each["value"] for each in given.values()]


@pytest.mark.parametrize(("method", "path"), OPERATIONS)
def test_every_operation_answers_as_described(asked, method, path):
    assert by_every_way(asked, method, path, 3 * FEW)


@pytest.mark.fuzz
@pytest.mark.parametrize(("method", "path"), WITH_INPUT)
def test_twenty_thousand_requests_find_no_fault(asked, method, path):
    assert by_every_way(asked, method, path, SPARE * MANY / len(WITH_INPUT))


@pytest.mark.fuzz
def test_it_was_twenty_thousand():
    for operation in OPERATIONS:
        print(*operation, {status: MET[*operation, status] for *each, status in sorted(MET) if (*each,) == operation})
    assert MET.total() >= MANY


@pytest.mark.parametrize("path", list(DESCRIPTION["paths"]))
def test_other_methods_are_refused_with_those_that_are_described(ask, path):
    described = {method.upper() for method in DESCRIPTION["paths"][path] if method in METHODS}
    allowed = described | ({"HEAD"} if "GET" in described else set())
    for method in ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "TRACE", "OPTIONS", "QUERY"):
        if method not in allowed:
            reply = ask(method, path)
            assert reply.status_code == 405, method
            assert set(reply.headers["allow"].split(", ")) == allowed


@pytest.mark.parametrize(("method", "path"), [each for each in OPERATIONS if examples_of(*each)])
def test_every_example_is_answered(ask, method, path):
    for example in examples_of(method, path):
        reply = ask(method, path, json=example)
        assert reply.status_code == (503 if path in KEPT else 200), reply.text


@pytest.mark.parametrize(("method", "path"), [each for each in OPERATIONS if examples_of(*each)])
def test_no_number_may_be_true_or_false(ask, method, path):
    for example in examples_of(method, path):
        for at, (holder, key) in enumerate(places(example)):
            if isinstance(holder[key], bool) or not isinstance(holder[key], int | float):
                continue
            body = copy.deepcopy(example)
            holder, key = places(body)[at]
            holder[key] = True
            reply = ask(method, path, json=body)
            assert reply.status_code == 422, (key, reply.text[:200])


@pytest.mark.parametrize("constant", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_numbers_that_are_none_are_refused(ask, question, constant):
    text = json.dumps(question).replace("-5", constant)
    reply = ask("POST", "/api/quotes", content=text, headers={"content-type": "application/json"})
    assert reply.status_code in (400, 422)
    assert reply.json()["errors"]
