"""The whole description, asked at random: nothing fails, every answer is as described, nothing wrong is accepted.

Three ways to ask each operation: bodies drawn from its schema, bodies drawn against it, and its own examples with a
few values changed, which reach further into the service. The seed is fixed. A short run belongs to every test run;
`pytest -m fuzz tests/web/test_openapi.py` asks 20 000 times.

One check of the tool is left out, and only one: that every body which fits the schema is answered. Rules across
fields (exactly one of two, ids that the catalogue holds) cannot be written in a schema, and are refused with 422.
"""

import copy
import json
import logging

import hypothesis
import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, assume, given, seed
from hypothesis import strategies as st
from hypothesis.errors import Unsatisfiable
from schemathesis import GenerationMode
from schemathesis.python import asgi
from schemathesis.specs.openapi.checks import positive_data_acceptance

from service.store import jobs
from service.web.app import create_app
from service.web.settings import Settings

SEED = 20_261_125
FEW, MANY = 5, 20_000  # examples of an operation and way; requests in all
KEPT = {"/api/sheets", "/api/comparison-jobs"}  # need a store, which that service has not
METHODS = {"get", "put", "post", "delete", "options", "patch", "trace"}
DESCRIPTION = create_app(Settings()).openapi()
OPERATIONS = [
    (method, path) for path, item in DESCRIPTION["paths"].items() for method in item if method in METHODS
]  # fmt: skip
ODD = (
    st.sampled_from([None, True, False, 0, -1, 0.0, 1e-9, 1e308, 2**63, 10**30, "", "\x00", "own", "−5", "1,5", [], {}])
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.integers(0, 200)
    | st.text(max_size=8)
)


@pytest.fixture(scope="module")
def asked(start, tmp_path_factory):
    """The description and a client of a service with a store."""
    patched = pytest.MonkeyPatch()
    patched.setattr(jobs, "MOST_WAITING", MANY)  # nobody works on the line here, and a full one is no fault
    app = start(Settings(database=str(tmp_path_factory.mktemp("kept") / "sheets.sqlite3")))

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
    logging.getLogger("rangewright").setLevel(level)
    patched.undo()


def described(asked, method, path):
    schema, client = asked
    return schema[path][method.upper()], client


def send(case, client):
    case.validate_response(case.call(session=client), excluded_checks=[positive_data_acceptance])


def at_random(strategy, count, check):
    """Run `check` on so many draws, the same ones each time."""

    @seed(SEED)
    @hypothesis.settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=[Phase.generate, Phase.shrink],
        suppress_health_check=list(HealthCheck),
        report_multiple_bugs=False,
    )
    @given(strategy)
    def run(drawn):
        check(drawn)

    try:
        run()
    except Unsatisfiable:  # nothing to draw: an operation without input has no wrong one
        return


def by_schema(asked, method, path, count):
    operation, client = described(asked, method, path)
    for mode in GenerationMode:
        at_random(operation.as_strategy(generation_mode=mode), count, lambda case: send(case, client))


def by_example(asked, method, path, count):
    operation, client = described(asked, method, path)
    examples = examples_of(method, path)

    def check(drawn):
        send(operation.Case(body=drawn, media_type="application/json"), client)

    if examples:
        at_random(altered(examples), count, check)


def examples_of(method, path):
    """The bodies that the description shows."""
    content = DESCRIPTION["paths"][path][method].get("requestBody", {}).get("content", {})
    given = content.get("application/json", {}).get("examples", {})
    return [each["value"] for each in given.values()]


@st.composite
def altered(draw, examples):
    """An example with up to three of its values changed."""
    body = copy.deepcopy(draw(st.sampled_from(examples)))
    for _ in range(draw(st.integers(0, 3))):
        holder, key = draw(st.sampled_from(places(body)))
        if draw(st.integers(0, 5)) == 0:
            del holder[key]
        else:
            holder[key] = draw(nearby(holder[key]) | ODD)
        assume(body)
    return body


def places(body):
    """Every value in it, as its holder and key."""
    found, left = [], [body]
    while left:
        holder = left.pop()
        for key in list(holder) if isinstance(holder, dict) else range(len(holder)):
            found.append((holder, key))
            if isinstance(holder[key], dict | list):
                left.append(holder[key])
    return found or [({"": None}, "")]


def nearby(value):
    """Values that may be legal in its place."""
    if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1e6:
        return st.just(value)
    return st.floats(value - 10, value + 10) | st.floats(-40, 40) | st.integers(0, 24)


@pytest.mark.parametrize(("method", "path"), OPERATIONS)
def test_every_operation_answers_as_described(asked, method, path):
    by_schema(asked, method, path, FEW)
    by_example(asked, method, path, FEW)


@pytest.mark.fuzz
@pytest.mark.parametrize(("method", "path"), OPERATIONS)
def test_twenty_thousand_requests_find_no_fault(asked, method, path):
    by_schema(asked, method, path, MANY // len(OPERATIONS) // 3)
    by_example(asked, method, path, MANY // len(OPERATIONS) // 3)


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
