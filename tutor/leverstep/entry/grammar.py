"""The grammar of an entry: numbers, arithmetic, the problem's own symbols, and units.

Text becomes a tree and nothing else: it is never evaluated as code. What cannot be read raises
`Unreadable`, with the place.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Literal

from leverstep.entry.tokens import GREEK, LARGEST_EXPONENT, Token, read_number, tokenize
from leverstep.entry.tree import Call, Measured, Name, Negative, Number, Operation, Tree, Unreadable
from leverstep.statics.units import ANGLE, TABLE, unit

DEEPEST_NESTING = 16

INVERSES = {"sin": "asin", "cos": "acos", "tan": "atan"}
"""The functions of an angle, and those that give the angle back."""
FUNCTIONS = ("sqrt", *INVERSES, *INVERSES.values())


def read_line(text: str, symbols: Collection[str]) -> tuple[Tree, ...]:
    """Return the sides of an entry: one tree, or several where it has equals signs.

    Args:
        text: what was typed.
        symbols: the names that may stand in it besides units and functions.

    Raises:
        Unreadable: where the text is too long, or no reading fits.
    """
    tokens = tokenize(text)
    sides: list[list[Token]] = [[]]
    for token in tokens:
        if token.text == "=":
            sides.append([])
        else:
            sides[-1].append(token)
    trees = []
    for side in sides:
        if not side:
            raise Unreadable("empty_side")
        trees.append(_Parser(side, symbols).whole())
    return tuple(trees)


class _Parser:
    """Reads one side of a line by recursive descent, with bounded depth."""

    def __init__(self, tokens: list[Token], symbols: Collection[str]) -> None:
        self.tokens = tokens
        self.symbols = symbols
        self.position = 0
        self.depth = 0

    def whole(self) -> Tree:
        tree = self._sum()
        token = self._next()
        if token is not None:
            raise self._unexpected(token)
        return tree

    def _next(self, ahead: int = 0) -> Token | None:
        place = self.position + ahead
        return self.tokens[place] if place < len(self.tokens) else None

    def _take(self, *texts: str) -> Token | None:
        token = self._next()
        if token is not None and token.kind == "sign" and token.text in texts:
            self.position += 1
            return token
        return None

    def _unexpected(self, token: Token) -> Unreadable:
        if token.kind == "number":
            return Unreadable("number_not_expected", token.place, found=token.text)
        if token.kind == "word":
            return self._unknown_word(token)
        return Unreadable("sign_not_expected", token.place, found=token.text)

    def _unknown_word(self, token: Token) -> Unreadable:
        return Unreadable("unknown_word", token.place, found=token.text)

    def _deeper(self) -> None:
        self.depth += 1
        if self.depth > DEEPEST_NESTING:
            raise Unreadable("too_deep")

    def _sum(self) -> Tree:
        self._deeper()
        tree = self._product()
        while (token := self._take("+", "-")) is not None:
            operator: Literal["+", "-"] = "+" if token.text == "+" else "-"
            tree = Operation(operator, tree, self._product())
        self.depth -= 1
        return tree

    def _product(self) -> Tree:
        tree = self._signed()
        while True:
            if (token := self._take("*", "/", ":")) is not None:
                operator: Literal["*", "/"] = "*" if token.text == "*" else "/"
                tree = Operation(operator, tree, self._signed())
            elif self._starts_factor():
                tree = Operation("*", tree, self._power())
            else:
                return tree

    def _starts_factor(self) -> bool:
        """Return whether a factor follows with no sign between: a symbol, function or bracket."""
        token = self._next()
        if token is None:
            return False
        if token.kind == "word":
            return self._symbol(token.text) is not None or _function(token.text) is not None
        return token.text == "("

    def _symbol(self, text: str) -> str | None:
        """Return the problem's symbol that is written so: Greek letters and case are forgiven."""
        spelled = "".join(GREEK.get(character, character) for character in text)
        if spelled in self.symbols:
            return spelled
        for forgiven in (str.lower, lambda name: name.lower().replace("_", "")):
            near = [name for name in self.symbols if forgiven(name) == forgiven(spelled)]
            # M_l is a moment and m_l a mass, even where the problem has no line M_l.
            near = [name for name in near if not (name[0] == "m" and spelled[0] == "M")]
            if len(near) == 1 and len(spelled) > 1 and _split_unit(text) is None:
                return near[0]
        return None

    def _signed(self) -> Tree:
        negative = False
        signs = 0
        while (token := self._take("-", "+")) is not None:
            negative ^= token.text == "-"
            signs += 1
            if signs > 2:
                raise Unreadable("signs_in_a_row", token.place)
        tree = self._power()
        return Negative(tree) if negative else tree

    def _power(self) -> Tree:
        tree = self._atom()
        while (token := self._take("^", "**")) is not None:
            negative = self._take("-") is not None
            exponent = self._next()
            if exponent is not None and exponent.text == "0.5" and not negative:
                self.position += 1
                tree = self._with_unit(Call("sqrt", tree))
                continue
            if exponent is None or not re.fullmatch(r"[0-9]+", exponent.text):
                raise Unreadable("no_whole_power", token.place)
            if len(exponent.text) > 2 or int(exponent.text) > LARGEST_EXPONENT:
                raise Unreadable("power", exponent.place, most=LARGEST_EXPONENT)
            self.position += 1
            power = float(exponent.text)
            tree = Operation("^", tree, Number(-power if negative else power))
            if (after := self._next()) is not None and after.text in ("^", "**"):
                raise Unreadable("power_of_power", after.place)
            tree = self._with_unit(tree)
        return tree

    def _atom(self) -> Tree:
        token = self._next()
        if token is None:
            raise Unreadable("stops_early", self.tokens[-1].end)
        if token.kind == "number":
            return self._with_unit(self._number())
        self.position += 1
        if token.text == "(":
            return self._with_unit(self._closed())
        if token.text == "|":
            tree = self._sum()
            if self._take("|") is None:
                raise Unreadable("second_bar", token.place)
            return self._with_unit(Call("abs", tree))
        if token.kind == "word":
            return self._word(token)
        raise self._unexpected(token)

    def _word(self, token: Token) -> Tree:
        name = self._symbol(token.text)
        if name is not None:
            return self._with_unit(Name(name, token.place), only_known=True)
        if (function := _function(token.text)) is not None:
            return self._with_unit(Call(function, self._argument(token)))
        raise self._unknown_word(token)

    def _argument(self, function: Token) -> Tree:
        """Read what a function is taken of: a bracket, or one number or symbol (`cos 35°`)."""
        if self._take("(") is not None:
            return self._closed()
        token = self._next()
        if token is not None and token.kind == "number":
            number = self._number()
            after = self._next()
            if after is not None and _is_angle(after.text):
                self.position += 1
                return Measured(number, ((after.text, 1),))
            return number
        name = self._symbol(token.text) if token is not None else None
        if token is None or name is None:
            raise Unreadable("function_of_what", function.place, function=function.text)
        self.position += 1
        return Name(name, token.place)

    def _closed(self) -> Tree:
        """Read what stands in a bracket that is open already, up to its end."""
        tree = self._sum()
        if self._take(")") is None:
            raise Unreadable("closing_bracket", self.tokens[-1].end)
        return tree

    def _number(self) -> Tree:
        """Read a number, with the forms that take several tokens: 17 1/2, 5.52 x 10^1."""
        token = self.tokens[self.position]
        number = read_number(token)
        self.position += 1
        following = self._next()
        if following is not None and following.kind == "number":
            return self._mixed(number, token, following)
        ten = self.tokens[self.position : self.position + 3]
        if [t.text for t in ten[:2]] == ["*", "10"] and len(ten) == 3 and ten[2].text in "^**":
            return self._scientific(number)
        return number

    def _mixed(self, whole: Number, first: Token, second: Token) -> Number:
        """Read `17 1/2`: a whole number, then a proper fraction."""
        bar, third = self._next(1), self._next(2)
        if (
            bar is not None
            and bar.text == "/"
            and third is not None
            and all(re.fullmatch(r"[0-9]{1,3}", t.text) for t in (first, second, third))
            and int(second.text) < int(third.text)
        ):
            self.position += 3
            return Number(whole.value + int(second.text) / int(third.text))
        raise Unreadable("two_numbers", second.place)

    def _scientific(self, number: Number) -> Tree:
        """Read the power of ten behind a number as part of it."""
        start = self.position
        self.position += 1
        power = self._power()
        if not isinstance(power, Operation) or not isinstance(power.right, Number):
            self.position = start
            return number
        scale = 10.0**power.right.value
        return Number(number.value * scale, number.half_digit * scale, number.figures)

    def _with_unit(self, tree: Tree, only_known: bool = False) -> Tree:
        """Read the unit that follows a term, if one does.

        Behind a symbol (`only_known`) a word that is no unit may start the next factor.
        """
        token = self._next()
        if token is None or (only_known and not self._is_unit_only(token.text)):
            return tree
        units: list[tuple[str, int]] = []
        power = 1
        while (token := self._next()) is not None:
            if units and token.text in ("*", "-", ".", "/") and self._unit_follows():
                power = -1 if token.text == "/" else 1
                self.position += 1
                token = self.tokens[self.position]
            spellings = self._unit_word(token)
            if spellings is None:
                break
            self.position += 1
            units += [(spelling, power) for spelling in spellings[:-1]]
            units.append((spellings[-1], power * self._unit_exponent()))
        if not units:
            return tree
        number = self._next()
        if number is None or number.kind != "number":
            return Measured(tree, tuple(units))
        return self._feet_and_inches(Measured(tree, tuple(units)), number)

    def _is_unit_only(self, word: str) -> bool:
        """Return whether a word is a unit and no symbol: behind a mass, g is no gram."""
        return word not in self.symbols and _split_unit(word) is not None

    def _feet_and_inches(self, feet: Measured, number: Token) -> Tree:
        """Read `5 ft 6 in`, the one case of a number right behind a unit."""
        after = self._next(1)
        if (
            [unit(spelling) for spelling, _ in feet.units] == [unit("ft")]
            and after is not None
            and unit(after.text) == unit("in")
        ):
            self.position += 2
            return Operation("+", feet, Measured(read_number(number), ((after.text, 1),)))
        raise Unreadable("number_after_unit", number.place)

    def _unit_follows(self) -> bool:
        """Return whether a unit, not another factor or term, follows the operator."""
        after = self._next(1)
        return (
            after is not None
            and after.kind == "word"
            and after.text not in self.symbols
            and _split_unit(after.text) is not None
        )

    def _unit_word(self, token: Token) -> tuple[str, ...] | None:
        """Return the units that a token spells, or None where it starts something else."""
        if token.text in ("°", '"', "'"):
            return (token.text,)
        if token.kind != "word":
            return None
        spelled = _split_unit(token.text)
        if spelled is not None:
            return spelled
        if self._symbol(token.text) is not None or _function(token.text) is not None:
            return None
        raise _no_unit(token)

    def _unit_exponent(self) -> int:
        """Read the exponent of a unit: `m^2`, `s²`, `s2`."""
        if self._take("^", "**") is None:
            return 1
        negative = self._take("-") is not None
        token = self._next()
        if token is None or not re.fullmatch(r"[0-9]", token.text):
            place = self.tokens[-1].end if token is None else token.place
            raise Unreadable("unit_power", place)
        self.position += 1
        return -int(token.text) if negative else int(token.text)


def _function(word: str) -> str | None:
    """Return the function that a word names, `arctan` for atan among them."""
    name = word.lower().replace("arc", "a", 1) if word.lower().startswith("arc") else word.lower()
    return name if name in FUNCTIONS else None


def _is_angle(word: str) -> bool:
    """Return whether a word is a unit of angle."""
    found = unit(word)
    return found is not None and found.dimension == ANGLE


def _split_unit(word: str) -> tuple[str, ...] | None:
    """Return the units that a word spells: `N` or, written together, `Nm`, `kNm`."""
    if unit(word) is not None:
        return (word,)
    for force in ("kN", "N"):
        length = word.removeprefix(force)
        if word.startswith(force) and length in ("m", "cm", "mm"):
            return (force, length)
    return None


def _no_unit(token: Token) -> Unreadable:
    """Return what is the matter with a word that stands where a unit is expected."""
    word = token.text
    spellings = (spelling for row in TABLE.values() for spelling in row.spellings)
    meant = next((one for one in spellings if one.lower() == word.lower()), "")
    meant = "N·m" if word.lower() == "nm" else meant
    if meant:
        return Unreadable("unit_meant", token.place, found=word, meant=meant)
    return Unreadable("unknown_unit", token.place, found=word)
