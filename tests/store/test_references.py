"""Numbers that people say, and links that nobody guesses."""

import math

import pytest

from service.store.references import TOKEN_BYTES, is_token, new_reference, new_token, read_reference


def test_a_link_holds_enough_chance():
    assert TOKEN_BYTES * 8 >= 128  # bits: NIST SP 800-63B asks for 64 of a session's secret, OWASP for 128
    assert len({new_token() for _ in range(1000)}) == 1000


def test_a_number_is_read_as_people_give_it():
    number = new_reference()
    digits = number.replace("-", "")
    for typed in (
        number,
        digits,
        f" {digits[:4]} {digits[4:]} ",
        f"{digits[:2]}.{digits[2:]}",
        f"{digits[:4]}–{digits[4:]}",
    ):
        assert read_reference(typed) == number


@pytest.mark.parametrize(
    "text", ["", "4821", "4821-73061", "abcd-efgh", "٤٨٢١٧٣٠٦", "4821-7306" * 1000, "0000\x000000"]
)
def test_what_is_no_number(text):
    assert read_reference(text) is None


def test_a_misheard_digit_and_two_exchanged_ones_are_noticed():
    # Damm: every single wrong digit and every exchange of neighbours is found
    for _ in range(50):
        digits = new_reference().replace("-", "")
        for place in range(8):
            for other in set("0123456789") - {digits[place]}:
                assert read_reference(digits[:place] + other + digits[place + 1 :]) is None
        for place in range(7):
            one, two = digits[place : place + 2]
            if one != two:
                assert read_reference(digits[:place] + two + one + digits[place + 2 :]) is None


def test_numbers_do_not_tell_how_many_there_are():
    spread = [int(new_reference()[:4]) for _ in range(2000)]
    assert math.isclose(sum(spread) / 2000, 5000, rel_tol=0.08)  # six sigma of the mean of 2000 even draws


@pytest.mark.parametrize("text", ["", "a" * 31, "a" * 33, "a" * 31 + "/", "a" * 31 + "\n", "ä" * 32])
def test_what_is_no_link(text):
    assert not is_token(text)
