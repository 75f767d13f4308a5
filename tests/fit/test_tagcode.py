"""The code on a tag: made, typed, checked."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from fitcounter.errors import BadInput
from fitcounter.fit import tagcode

bodies = st.text(alphabet=tagcode.ALPHABET, min_size=8, max_size=8)
codes = bodies.map(lambda body: body + tagcode.check_character(body)).filter(
    lambda code: code[-1] in tagcode.ALPHABET
)


def counting_bytes(start: int):
    """Bytes that are different at each call, without any chance in them."""
    state = [start]

    def give(count: int) -> bytes:
        state[0] = (state[0] * 6364136223846793005 + 1442695040888963407) % 2**64
        return (state[0] >> 8).to_bytes(8, "big")[-count:]

    return give


def test_the_published_example_of_mod_37_2_comes_out():
    """The worked example of the UK blood services for donation numbers, G1234 98 654321, ends in H.

    Source: Guidelines for the Blood Transfusion Services in the UK, Annex 2, "ISBT 128 check
    character calculation".
    """
    assert tagcode.check_character("G123498654321") == "H"


@given(bodies)
def test_the_check_character_is_the_one_python_stdnum_computes(body):
    """Our few lines and a library written by somebody else agree on every body."""
    assert tagcode.check_character(body) == mod_37_2.calc_check_digit(body)


def test_a_thousand_new_codes_are_different_valid_and_typeable():
    """New codes never repeat here, pass their own check and hold no sign a keyboard or an ear would
    confuse.
    """
    give = counting_bytes(1)
    made = [tagcode.new_code(give) for _ in range(1000)]
    assert len(set(made)) == 1000
    assert all(mod_37_2.is_valid(code) and set(code) <= set(tagcode.ALPHABET) for code in made)


def test_a_draw_whose_check_character_could_not_be_typed_is_thrown_away():
    """The second draw is used when the first would end in I, L, O, U or a star."""
    bad = next(
        n for n in range(10**6) if tagcode.check_character(f"{n:08d}") not in tagcode.ALPHABET
    )
    as_bytes = sum(
        int(digit) << 5 * (7 - place) for place, digit in enumerate(f"{bad:08d}")
    ).to_bytes(5, "big")
    draws = iter([as_bytes, bytes(5)])
    assert tagcode.new_code(lambda count: next(draws)) == "0" * 8 + tagcode.check_character("0" * 8)


@given(codes)
def test_what_is_printed_reads_back(code):
    """The code with its dashes, in small letters, or as the address in the square gives the same
    code.
    """
    assert tagcode.read_code(tagcode.show_code(code)) == code
    assert tagcode.read_code(f" {code.lower()[:3]} {code.lower()[3:]} ") == code
    assert tagcode.read_code(tagcode.tag_address("https://bench.example/", code)) == code
    assert tagcode.read_code(code.replace("0", "o").replace("1", "l")) == code


@given(codes, st.integers(0, 8), st.sampled_from(tagcode.ALPHABET))
def test_one_wrong_character_is_always_noticed(code, place, other):
    """Any other character at any place is refused with a sentence that says what to type."""
    wrong = code[:place] + other + code[place + 1 :]
    if other == code[place]:
        assert tagcode.read_code(wrong) == code
        return
    with pytest.raises(BadInput, match="7K3M-9QXW-E") as refused:
        tagcode.read_code(wrong)
    assert refused.value.typed == wrong


@given(codes, st.integers(0, 7))
def test_two_neighbours_swapped_are_always_noticed(code, place):
    """The commonest slip of fingers does not lead to somebody else's boot."""
    swapped = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
    if swapped != code:
        with pytest.raises(BadInput):
            tagcode.read_code(swapped)


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "7K3M9QXW",
        "7K3M9QXWEE",
        "7K3M9QXUE",
        "７K3M9QXWE",
        "7K3M9QXW*",
        "<b>7K3M9Q",
        "ıK3M9QXWE",
        "///",
    ],
)
def test_what_cannot_be_a_code_is_refused(typed):
    """Too short, too long, U, other scripts' digits and markup are refused and given back as
    typed.
    """
    with pytest.raises(BadInput) as refused:
        tagcode.read_code(typed)
    assert refused.value.typed == typed


def test_the_address_is_all_capitals():
    """Only capitals, digits and a few signs fit the small alphanumeric square."""
    assert (
        tagcode.tag_address("https://bench.example", "7K3M9QXWE")
        == "HTTPS://BENCH.EXAMPLE/T/7K3M9QXWE"
    )
