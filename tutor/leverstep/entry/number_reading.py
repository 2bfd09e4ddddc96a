"""The numbers of an entry that take several tokens: `17 1/2`, `5.52 x 10^1`, and exponents."""

from __future__ import annotations

import re

from leverstep.entry.token_cursor import POWER, TokenCursor
from leverstep.entry.tokens import LARGEST_EXPONENT, Token, read_number
from leverstep.entry.tree import Number, Unreadable
from leverstep.entry.unit_reading import UnitReader


class NumberReader:
    """Reads a number in any of its forms."""

    def __init__(self, cursor: TokenCursor, units: UnitReader) -> None:
        self._cursor = cursor
        self._units = units

    def read(self) -> Number:
        """Read the number that begins with the next token.

        Raises:
            Unreadable: where it has too many digits, can be read in two ways, or another number
                follows that is no part of it.
        """
        cursor = self._cursor
        token = cursor.take()
        number = read_number(token)
        following = cursor.ahead()
        if following.kind == "number":
            return self._mixed(number, token)
        if following.text == "*" and cursor.ahead(1).text == "10":
            return self._scientific(number)
        return number

    def _mixed(self, whole: Number, first: Token) -> Number:
        """Read `17 1/2`: a whole number, then a proper fraction."""
        cursor = self._cursor
        above, bar, below = cursor.ahead(), cursor.ahead(1), cursor.ahead(2)
        if (
            bar.text != "/"
            or not all(re.fullmatch(r"[0-9]{1,3}", one.text) for one in (first, above, below))
            or int(above.text) >= int(below.text)
        ):
            raise Unreadable("two_numbers", above.place)
        cursor.position += 3
        return Number(whole.value + int(above.text) / int(below.text))

    def _scientific(self, number: Number) -> Number:
        """Read the power of ten behind a number as part of it.

        One with a unit of its own (`5.52 x 10^1 N`), and a root of ten, stay factors.
        """
        cursor = self._cursor
        before = cursor.position
        cursor.position += 2
        sign = cursor.take_sign(*POWER)
        if sign is not None and cursor.ahead().text != "0.5":
            power = read_exponent(cursor, sign)
            if self._units.behind(power) is power:
                scale = 10.0**power.value
                return Number(number.value * scale, number.half_digit * scale, number.figures)
        cursor.position = before
        return number


def read_exponent(cursor: TokenCursor, sign: Token) -> Number:
    """Read the whole number of a power, behind its sign.

    Raises:
        Unreadable: where it is none, too large, or raised to a power itself.
    """
    negative = cursor.take_sign("-") is not None
    exponent = cursor.take()
    if not re.fullmatch(r"[0-9]+", exponent.text):
        raise Unreadable("no_whole_power", sign.place)
    if len(exponent.text) > 2 or int(exponent.text) > LARGEST_EXPONENT:
        raise Unreadable("power", exponent.place, most=LARGEST_EXPONENT)
    if (after := cursor.ahead()).text in POWER:
        raise Unreadable("power_of_power", after.place)
    power = float(exponent.text)
    return Number(-power if negative else power)
