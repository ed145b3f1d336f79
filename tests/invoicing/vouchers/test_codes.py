"""Codes of vouchers: ISO 7064, and every slip of one sign."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from invoicing.vouchers.codes import LENGTH, SIGNS, grouped, new_code, read_code

codes = st.text(SIGNS, min_size=LENGTH - 1, max_size=LENGTH - 1).map(
    lambda drawn: drawn + mod_37_36.calc_check_digit(drawn, alphabet=SIGNS)
)


def test_the_check_by_hand() -> None:
    # The hybrid system of ISO 7064 (from memory) with M = 32, by hand for eleven times
    # "2", the sign of value 0. P begins at 32 and becomes 2 (P + 0) mod 33 with each:
    # 31, 29, 25, 17, 1, 2, 4, 8, 16, 32, 31. The check makes 31 + c = 1 mod 32: c is 2,
    # the sign "4".
    assert read_code("2222-2222-2224") == "222222222224"


@given(code=codes, place=st.integers(0, LENGTH - 1), sign=st.sampled_from(SIGNS))
def test_any_one_wrong_sign_is_noticed(code: str, place: int, sign: str) -> None:
    wrong = code[:place] + sign + code[place + 1 :]

    if wrong == code:
        assert read_code(wrong) == code
    else:
        with pytest.raises(ValueError, match="One sign of the code is wrong"):
            read_code(wrong)


def test_a_new_code_reads_back_however_it_is_typed() -> None:
    code = new_code()

    assert read_code(grouped(code).lower().replace("-", "  ")) == code
    assert not set("0O1I") & set(SIGNS)


@pytest.mark.parametrize(
    ("typed", "said"), [("0ABC", "holds no 0"), ("ABC", "has 12 signs; this has 3")]
)
def test_what_cannot_be_a_code_says_why(typed: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        read_code(typed)
