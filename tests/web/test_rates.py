"""A client that asks too often has to wait; the memory for that does not grow."""

import pytest

from service.web import rates
from service.web.rates import Buckets, client_of
from service.web.settings import Settings


class Clock:
    now_s = 0.0

    def __call__(self):
        return self.now_s


def test_a_bucket_fills_evenly_and_not_beyond_its_rim():
    clock = Clock()
    buckets = Buckets(60, clock)  # one a second
    assert [buckets.wait_s("a") for _ in range(60)] == [0.0] * 60
    assert buckets.wait_s("a") == pytest.approx(1.0)
    clock.now_s = 0.5
    assert buckets.wait_s("a") == pytest.approx(0.5)
    clock.now_s = 1.0
    assert buckets.wait_s("a") == 0.0
    clock.now_s = 10_000
    assert sum(buckets.wait_s("a") == 0.0 for _ in range(100)) == 60


def test_one_client_does_not_use_up_anothers():
    buckets = Buckets(1, Clock())
    assert [buckets.wait_s("a"), buckets.wait_s("b")] == [0.0, 0.0]
    assert buckets.wait_s("a") > 0


def test_the_longest_unheard_of_client_is_forgotten(monkeypatch):
    monkeypatch.setattr(rates, "MOST_CLIENTS", 100)
    buckets = Buckets(1, Clock())
    for number in range(1000):
        buckets.wait_s(str(number))
    assert len(buckets) == 100
    assert buckets.wait_s("999") > 0
    assert buckets.wait_s("0") == 0.0


def test_the_service_says_when_to_come_back(ask, start):
    app = start(Settings(rate_per_minute=3))
    replies = [ask("GET", "/api/circuits", to=app) for _ in range(4)]
    assert [reply.status_code for reply in replies] == [200, 200, 200, 429]
    assert 1 <= int(replies[-1].headers["retry-after"]) <= 20
    assert "content-security-policy" in replies[-1].headers
    assert replies[-1].json()["errors"][0]["remedy"].startswith("try again in")
    assert ask("GET", "/healthz", to=app).status_code == 200


def scope(address, *forwarded):
    headers = [(b"x-forwarded-for", each.encode()) for each in forwarded]
    return {"type": "http", "client": (address, 1), "headers": headers}


@pytest.mark.parametrize(
    ("address", "forwarded", "client"),
    [
        ("192.0.2.7", (), "192.0.2.7"),
        ("192.0.2.7", ("198.51.100.1",), "192.0.2.7"),  # its own word counts for nothing
        ("10.0.0.7", ("198.51.100.1",), "198.51.100.1"),
        ("10.0.0.7", ("1.2.3.4, 198.51.100.1",), "198.51.100.1"),  # only what the proxy itself has seen
        ("10.0.0.7", ("1.2.3.4", "198.51.100.1"), "198.51.100.1"),
        ("10.0.0.7", (), "10.0.0.7"),
        ("10.0.0.7", ("1.2.3.4, 198.51.100.1, 10.0.0.8",), "198.51.100.1"),  # two proxies, one behind the other
        ("10.0.0.7", ("10.0.0.8",), "10.0.0.8"),
        ("10.0.0.7", (", ,",), "unknown"),
        ("10.0.0.7", ("1.2.3.4, who",), "unknown"),  # what stands before it is the client's own word
        ("10.0.0.7", ("198.51.100.1:4711",), "198.51.100.1"),
        ("::ffff:10.0.0.7", ("198.51.100.1",), "198.51.100.1"),  # as a listener for both families sees it
        ("10.0.0.7", ("x" * 1000,), "unknown"),
    ],
)
def test_whom_a_proxy_speaks_for(address, forwarded, client):
    assert client_of(scope(address, *forwarded), frozenset({"10.0.0.7", "10.0.0.8"})) == client


def test_a_household_is_one_client():
    one, two = (client_of(scope(f"2001:db8:1:2::{each}"), frozenset()) for each in (1, 2))
    assert one == two != client_of(scope("2001:db8:1:3::1"), frozenset())
    assert client_of({"type": "http", "client": None, "headers": []}, frozenset()) == "unknown"
