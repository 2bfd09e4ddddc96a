"""Numbers as they are written: half up, in exact fractions, so that no machine rounds otherwise."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from leverstep.course.decimals import half_up, number, percent, true_minus, whole_percent


@given(st.integers(0, 10**9), st.integers(0, 4))
def test_numbers_are_rounded_as_decimals_are(units: int, decimals: int) -> None:
    exact = Decimal(units) / 10**6
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    written = number(Fraction(units, 10**6), decimals)
    assert Decimal(written) == rounded
    assert not written.endswith(".")
    assert "." not in written or not written.endswith("0")


@pytest.mark.parametrize(
    ("value", "whole"), [("1/2", 1), ("3/2", 2), ("5/2", 3), ("-1/2", 0), ("-3/2", -1), ("1/3", 0)]
)
def test_a_half_goes_up(value: str, whole: int) -> None:
    assert half_up(Fraction(value)) == whole


def test_shares_are_told_as_they_were_set_or_in_whole_per_cent_where_they_were_counted() -> None:
    assert percent(Fraction(1, 40)) == "2.5 %"
    assert percent(Fraction(1)) == "100 %"
    assert whole_percent(Fraction(2, 3)) == "67 %"
    assert whole_percent(Fraction(1, 8)) == "13 %"
    assert true_minus("-12.5") == "−12.5"
