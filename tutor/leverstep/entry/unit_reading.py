"""The units behind a term: words, their exponents, and feet with inches."""

from __future__ import annotations

import re

from leverstep.entry.token_cursor import POWER, TokenCursor
from leverstep.entry.tokens import Token, read_number
from leverstep.entry.tree import Measured, Operation, Tree, Unreadable
from leverstep.entry.vocabulary import Vocabulary
from leverstep.statics.units import LENGTH, MOMENT, NAMED_LENGTH, TABLE, TIME, known_unit, unit


class UnitReader:
    """Reads the unit that follows a term, if one does."""

    def __init__(self, cursor: TokenCursor, vocabulary: Vocabulary) -> None:
        self._cursor = cursor
        self._vocabulary = vocabulary

    def behind(self, term: Tree) -> Tree:
        """Return a term with the unit that follows it, or the term itself where none does.

        Raises:
            Unreadable: where a word follows that is neither a unit nor the start of a factor, or a
                number stands right behind the unit.
        """
        units = self._units()
        if not units:
            return term
        if self._vocabulary.names_length:
            _check_length(units)
        measured = Measured(term, tuple(units))
        following = self._cursor.ahead()
        if following.kind == "number":
            return self._feet_and_inches(measured, following)
        return measured

    def behind_symbol(self, term: Tree) -> Tree:
        """Do the same for a symbol, behind which a word that is no unit may start a factor."""
        is_unit = self._vocabulary.is_unit_only(self._cursor.ahead().text)
        return self.behind(term) if is_unit else term

    def _units(self) -> list[tuple[str, int]]:
        """Read units, and the signs between them; an exponent belongs to the last of a word."""
        cursor = self._cursor
        units: list[tuple[str, int]] = []
        power = 1
        while True:
            token = cursor.ahead()
            if units and token.text in ("*", "-", ".", "/") and self._unit_follows():
                power = -1 if token.text == "/" else 1
                cursor.take()
                token = cursor.ahead()
            spellings = self._unit_word(token)
            if spellings is None:
                return units
            cursor.take()
            units += [(spelling, power) for spelling in spellings[:-1]]
            units.append((spellings[-1], power * self._exponent()))

    def _unit_follows(self) -> bool:
        """Return whether a unit, not another factor or term, follows the operator."""
        after = self._cursor.ahead(1)
        return after.kind == "word" and self._vocabulary.is_unit_only(after.text)

    def _unit_word(self, token: Token) -> tuple[str, ...] | None:
        """Return the units that a token spells, or None where it starts something else."""
        if token.text in ("°", "%", '"', "'"):
            return (token.text,)
        if token.kind != "word":
            return None
        spelled = self._vocabulary.units(token.text)
        if spelled is None and not self._vocabulary.is_factor(token.text):
            raise _no_unit(token)
        return spelled

    def _exponent(self) -> int:
        """Read the exponent of a unit: `m^2`, `s²`, `s2`."""
        cursor = self._cursor
        if cursor.take_sign(*POWER) is None:
            return 1
        negative = cursor.take_sign("-") is not None
        token = cursor.take()
        if not re.fullmatch(r"[0-9]", token.text):
            raise Unreadable("unit_power", token.place)
        return -int(token.text) if negative else int(token.text)

    def _feet_and_inches(self, feet: Measured, number: Token) -> Tree:
        """Read `5 ft 6 in`, the one case of a number right behind a unit."""
        cursor = self._cursor
        after = cursor.ahead(1)
        is_feet = [unit(spelling) for spelling, _ in feet.units] == [unit("ft")]
        if not is_feet or unit(after.text) != unit("in"):
            raise Unreadable("number_after_unit", number.place)
        cursor.position += 2
        return Operation("+", feet, Measured(read_number(number), ((after.text, 1),)))


def _check_length(units: list[tuple[str, int]]) -> None:
    """Refuse a length or a moment in metres; g has metres, but per second squared."""
    dimensions = {spelling: known_unit(spelling).dimension for spelling, _ in units}
    metres = [one for one, of in dimensions.items() if of in (LENGTH, MOMENT)]
    metres = [one for one in metres if one != NAMED_LENGTH]
    if metres and TIME not in dimensions.values():
        raise Unreadable("in_metres", found=metres[0], named=NAMED_LENGTH)


def _no_unit(token: Token) -> Unreadable:
    """Return what is the matter with a word that stands where a unit is expected."""
    word = token.text
    spellings = (spelling for row in TABLE.values() for spelling in row.spellings)
    meant = next((one for one in spellings if one.lower() == word.lower()), "")
    meant = "N·m" if word.lower() == "nm" else meant
    if meant:
        return Unreadable("unit_meant", token.place, found=word, meant=meant)
    return Unreadable("unknown_unit", token.place, found=word)
