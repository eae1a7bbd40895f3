"""Archives that would swell, lie or hide something are refused fast, and take little memory."""

import io
import re
import struct
import time
import tracemalloc
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadInputs
from service.intake.archive import LARGEST_UNPACKED, MOST_PARTS, Bounds, unpacked

BOUNDS = Bounds(LARGEST_UNPACKED, 1_000_000)
SECONDS, MEGABYTES = 5.0, 150  # of the whole refusal: a bound for a busy machine, seen are less than 1 s and 70 MB


def packed(parts, method=zipfile.ZIP_DEFLATED):
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", method) as archive:
        for name, data in parts.items():
            with archive.open(name, "w", force_zip64=True) as stream:
                for piece in data:
                    stream.write(piece)
    return held.getvalue()


def refused(content):
    with pytest.raises(BadInputs) as caught:
        unpacked(content, lambda name: BOUNDS)
    return caught.value.rows()[0]


@pytest.fixture(scope="module")
def gigabyte():
    return packed({"a.xml": [b"\0" * 2**20] * 1024})


def claiming(content, size):
    """The same archive, its directory saying that each part unpacks to `size` bytes."""
    data, at = bytearray(content), content.find(b"PK\x01\x02")
    struct.pack_into("<L", data, at + 24, size)
    return bytes(data)


@pytest.mark.parametrize("claims", [None, 1000, LARGEST_UNPACKED], ids=["openly", "small", "just small enough"])
def test_a_gigabyte_is_not_unpacked(gigabyte, claims):
    content = claiming(gigabyte, claims) if claims else gigabyte
    tracemalloc.start()
    started = time.monotonic()
    row = refused(content)
    took_s, most = time.monotonic() - started, tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert row.remedy
    assert took_s < SECONDS
    assert most < MEGABYTES * 2**20


def test_several_parts_are_counted_together():
    half = [b"x" * (LARGEST_UNPACKED // 2 + 1)]
    assert "too large" in refused(packed({"a": half, "b": half})).message


def test_a_part_that_is_not_wanted_is_not_counted(gigabyte):
    assert zipfile.ZipFile(unpacked(gigabyte, lambda name: BOUNDS if name == "b" else None)).namelist() == []


def test_too_many_parts_or_tags_are_refused():
    assert "parts" in refused(packed({str(number): [b""] for number in range(MOST_PARTS + 1)})).message
    assert "too large" in refused(packed({"a": [b"<a/>" * (BOUNDS.marks + 1)]})).message


def test_tags_are_counted_between_the_places_where_they_are_let_go():
    bounds = Bounds(10_000, 1000, re.compile(b"<row"), 20)

    def taken(data):
        return zipfile.ZipFile(unpacked(packed({"a": [data]}), lambda name: bounds)).read("a")

    long = b"<row>" + b"<c/>" * 19
    assert taken(long * 3) == long * 3
    with pytest.raises(BadInputs):
        taken(long * 3 + b"<c/>")
    with pytest.raises(BadInputs):
        taken(b"<c/>" * 21 + long)


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_other_ways_of_packing_are_refused(method):
    assert "unusual" in refused(packed({"a": [b"x"]}, method)).message


def test_a_locked_part_is_refused():
    content = bytearray(packed({"a": [b"x"]}))
    content[content.find(b"PK\x01\x02") + 8] |= 1
    assert "locked" in refused(bytes(content)).message


@settings(max_examples=200, deadline=None)
@given(at=st.integers(0, 400), value=st.integers(0, 255), cut=st.integers(0, 400))
def test_a_damaged_archive_is_refused_in_our_words_or_read(at, value, cut):
    content = bytearray(packed({"a": [b"abc" * 40], "b": [b"x"]}))
    content[at % len(content)] = value
    try:
        unpacked(bytes(content[: len(content) - cut]), lambda name: BOUNDS)
        remedies = []
    except BadInputs as error:
        remedies = [row.remedy for row in error.rows()]
    assert all(remedies)


def test_the_copy_holds_what_was_wanted_and_is_not_packed():
    copy = zipfile.ZipFile(unpacked(packed({"a": [b"abc"], "b": [b"x"]}), lambda name: BOUNDS if name == "a" else None))
    assert copy.read("a") == b"abc"
    assert [part.compress_type for part in copy.infolist()] == [zipfile.ZIP_STORED]
