"""Phone numbers, as people type them."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.contact import Phone, read_phone, sms_link
from fitcounter.errors import BadInput


@pytest.mark.parametrize(
    ("typed", "e164", "last4"),
    [
        ("", "", ""),
        ("(412) 555-0123", "+14125550123", "0123"),
        ("(412) 555-0123 x7", "+14125550123", "0123"),
        ("0123", "", "0123"),
        ("+44 7700 900049", "+447700900049", "0049"),
        ("412.555.0123", "+14125550123", "0123"),
        ("555-0123", "", "0123"),
    ],
)
def test_a_number_is_kept_as_said_and_once_more_to_be_compared(typed: str, e164: str, last4: str):
    assert read_phone(typed, "US") == Phone(typed, e164, last4)


def test_a_number_without_its_country_is_the_shops_countrys():
    assert read_phone("07700 900049", "GB").e164 == "+447700900049"


@pytest.mark.parametrize(
    "typed",
    ["call my wife", "+", "2" * 200, "٠١٢٣٤٥٦٧٨٩", "123", "12\u0000345678", "<script>", "--------"],
)
def test_what_is_no_number_is_refused_with_what_to_type(typed: str):
    with pytest.raises(BadInput, match="phone number, like") as refused:
        read_phone(typed, "US")
    assert refused.value.field == "phone"


@pytest.mark.parametrize(
    ("phone", "opens"),
    [
        ("+15550100142", "sms:+15550100142"),
        ("(412) 555-0123 x7", "sms:4125550123"),
        ("412&body=no?x=1", "sms:412"),
        ("", ""),
    ],
)
def test_a_text_opens_with_its_words_on_every_phone_and_nothing_else_gets_into_the_address(
    phone: str, opens: str
):
    """Every sign of the words is coded: none ends them, begins a field or a fragment."""
    words = "Hi & hello? 100% #1 + ñ https://boots.example.org/c/a-b_c"
    coded = (
        "Hi%20%26%20hello%3F%20100%25%20%231%20%2B%20%C3%B1"
        "%20https%3A%2F%2Fboots.example.org%2Fc%2Fa-b_c"
    )
    assert sms_link(phone, words) == (f"{opens}?&body={coded}" if opens else "")
