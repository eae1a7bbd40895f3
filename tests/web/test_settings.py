"""Settings are checked before anything listens."""

import pytest

from service.errors import BadInputs
from service.web.settings import Settings

KEY = "a-key-of-the-house-1"


def test_the_default_is_this_machine_only():
    assert Settings.from_environment({}) == Settings("127.0.0.1", 8000, 1, None, None, False)


def test_everything_can_be_set():
    environment = {
        "RANGEWRIGHT_HOST": "0.0.0.0",
        "RANGEWRIGHT_PORT": "80",
        "RANGEWRIGHT_WORKERS": "4",
        "RANGEWRIGHT_PUBLIC_URL": "https://range.example.org/",
        "RANGEWRIGHT_ACCESS_KEY": KEY,
        "RANGEWRIGHT_OPEN": "0",
    }
    settings = Settings.from_environment(environment)
    assert settings == Settings("0.0.0.0", 80, 4, "https://range.example.org", KEY, False)
    assert KEY not in repr(settings)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("PORT", "http"),
        ("PORT", "65536"),
        ("PORT", "-1"),
        ("PORT", "9" * 5000),
        ("WORKERS", "0"),
        ("WORKERS", "1.5"),
        ("PUBLIC_URL", "range.example.org"),
        ("PUBLIC_URL", "ftp://range.example.org"),
        ("PUBLIC_URL", "http://[bad"),
        ("OPEN", "yes"),
        ("ACCESS_KEY", "short"),
        ("HOST", "0.0.0.0"),
        ("HOST", "::"),
        ("HOST", "192.168.1.5"),
        ("HOST", "example.org"),
    ],
)
def test_a_bad_setting_is_named(name, value):
    with pytest.raises(BadInputs) as caught:
        Settings.from_environment({f"RANGEWRIGHT_{name}": value})
    (row,) = caught.value.rows()
    assert row.field == f"RANGEWRIGHT_{name}"
    assert row.remedy


def test_a_bad_key_is_not_shown():
    with pytest.raises(BadInputs) as caught:
        Settings.from_environment({"RANGEWRIGHT_ACCESS_KEY": "secret"})
    assert "secret" not in str(caught.value)
    assert caught.value.rows()[0].value is None


def test_all_bad_settings_are_told_at_once():
    with pytest.raises(BadInputs) as caught:
        Settings.from_environment({"RANGEWRIGHT_PORT": "x", "RANGEWRIGHT_OPEN": "x", "RANGEWRIGHT_HOST": "0.0.0.0"})
    assert len(caught.value.rows()) == 3


@pytest.mark.parametrize("extra", [{"RANGEWRIGHT_OPEN": "1"}, {"RANGEWRIGHT_ACCESS_KEY": KEY}])
def test_beyond_this_machine_needs_a_key_or_a_word(extra):
    assert Settings.from_environment({"RANGEWRIGHT_HOST": "0.0.0.0", **extra}).host == "0.0.0.0"


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.9.1", "::1", "localhost"])
def test_this_machine_needs_neither(host):
    assert Settings.from_environment({"RANGEWRIGHT_HOST": host}).host == host
