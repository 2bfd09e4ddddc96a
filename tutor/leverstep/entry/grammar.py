"""The grammar of an entry: sums, products and powers of numbers, symbols, functions and brackets.

Text becomes a tree and nothing else: it is never evaluated as code. What cannot be read raises
`Unreadable`, with the place.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from functools import lru_cache
from typing import Literal

from leverstep.entry.answers_in_words import CLASSES_IN_WORDS
from leverstep.entry.number_reading import NumberReader, read_exponent
from leverstep.entry.token_cursor import POWER, TokenCursor
from leverstep.entry.tokens import Token, number_of, tokenize
from leverstep.entry.tree import (
    Call,
    Measured,
    Name,
    Negative,
    Number,
    Operation,
    Tree,
    Unreadable,
    number_in,
)
from leverstep.entry.unit_reading import UnitReader
from leverstep.entry.vocabulary import (
    Vocabulary,
    function_named,
    is_angle,
    units_spelled,
    vocabulary_of,
    with_inverses,
)

DEEPEST_NESTING = 16


def read_line(text: str, symbols: Collection[str]) -> tuple[Tree, ...]:
    """Return the sides of an entry: one tree, or several where it has equals signs.

    Args:
        text: what was typed.
        symbols: the names that may stand in it besides units and functions.

    Raises:
        Unreadable: where the text is too long, or no reading fits.
    """
    return _read(text, frozenset(symbols))


@lru_cache(maxsize=1024)
def _read(text: str, symbols: frozenset[str]) -> tuple[Tree, ...]:
    """Read an entry once, though several rooms ask what it says."""
    plain = PLAIN.fullmatch(text)
    behind = _behind_a_number(plain["rest"], symbols) if plain else None
    if plain is None or behind is None:
        return read_in_pieces(text, symbols)
    number = number_of(plain["number"])
    term = Measured(number, behind.units) if isinstance(behind, Measured) else number
    return (Negative(term) if plain["minus"] else term,)


def read_in_pieces(text: str, symbols: frozenset[str]) -> tuple[Tree, ...]:
    """Return the sides of any entry, token by token, as `read_line` does."""
    vocabulary = vocabulary_of(symbols)
    sides: list[list[Token]] = [[]]
    tokens = with_inverses(tokenize(text))
    for token in (part for one in tokens for part in _parts(one, vocabulary)):
        if token.text == "=":
            sides.append([])
        else:
            sides[-1].append(token)
    trees = []
    for side in sides:
        if not side:
            raise Unreadable("empty_side")
        trees.append(_ExpressionReader(side, vocabulary).whole())
    return tuple(trees)


PLAIN = re.compile(
    r"(?P<minus>[-−]?)(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?)(?P<rest>[^0-9=]{0,12})"
)
"""Most entries: one number, and behind it something without digits, such as a unit."""


@lru_cache(maxsize=256)
def _behind_a_number(rest: str, symbols: frozenset[str]) -> Number | Measured | None:
    """Return what a number is with a text behind it, None where that is more than a unit or none.

    Whatever number stands there is read alike, so that most entries need not be taken to pieces.
    """
    try:
        tree, *others = read_in_pieces(f"{STAND_IN}{rest}", symbols)
    except Unreadable:
        return None
    if others or not isinstance(tree, Number | Measured):
        return None
    return tree if number_in(tree) == number_of(STAND_IN) else None


STAND_IN = "1.5"
"""The number that is read in place of any other, with what stands behind it."""


def _parts(token: Token, vocabulary: Vocabulary) -> Iterator[Token]:
    """Yield a token, or each symbol of a word that is several with no sign between: `Wfdf`."""
    place = token.place
    for part in (token.kind == "word" and vocabulary.joined(token.text)) or (token.text,):
        end = token.end if part == token.text else place + len(part)
        yield Token(token.kind, part, place, end)
        place = end


class _ExpressionReader:
    """Reads one side of a line by recursive descent, with bounded depth."""

    def __init__(self, tokens: list[Token], vocabulary: Vocabulary) -> None:
        self._cursor = TokenCursor(tokens)
        self._vocabulary = vocabulary
        self._units = UnitReader(self._cursor, vocabulary)
        self._numbers = NumberReader(self._cursor, self._units)
        self._depth = 0

    def whole(self) -> Tree:
        """Read the side from first to last token."""
        tree = self._sum()
        token = self._cursor.ahead()
        if token is not self._cursor.end:
            raise _unexpected(token)
        return tree

    def _sum(self) -> Tree:
        self._depth += 1
        if self._depth > DEEPEST_NESTING:
            raise Unreadable("too_deep")
        tree = self._product()
        while (token := self._cursor.take_sign("+", "-")) is not None:
            operator: Literal["+", "-"] = "+" if token.text == "+" else "-"
            tree = Operation(operator, tree, self._product())
        self._depth -= 1
        return tree

    def _product(self) -> Tree:
        tree = self._signed()
        while True:
            if (token := self._cursor.take_sign("*", "/", ":")) is not None:
                operator: Literal["*", "/"] = "*" if token.text == "*" else "/"
                tree = Operation(operator, tree, self._signed())
            elif self._starts_factor(self._cursor.ahead()):
                tree = Operation("*", tree, self._power())
            else:
                return tree

    def _starts_factor(self, token: Token) -> bool:
        """Return whether a factor follows with no sign between: a symbol, function or bracket."""
        if token.kind == "word":
            return self._vocabulary.is_factor(token.text)
        return token.text == "("

    def _signed(self) -> Tree:
        negative = False
        signs = 0
        while (token := self._cursor.take_sign("-", "+")) is not None:
            negative ^= token.text == "-"
            signs += 1
            if signs > 2:
                raise Unreadable("signs_in_a_row", token.place)
        tree = self._power()
        return Negative(tree) if negative else tree

    def _power(self) -> Tree:
        tree = self._atom()
        while (sign := self._cursor.take_sign(*POWER)) is not None:
            if self._cursor.ahead().text == "0.5":
                self._cursor.take()
                tree = Call("sqrt", tree)
            else:
                tree = Operation("^", tree, read_exponent(self._cursor, sign))
            tree = self._units.behind(tree)
        return tree

    def _atom(self) -> Tree:
        if self._cursor.ahead().kind == "number":
            return self._units.behind(self._numbers.read())
        token = self._cursor.take()
        if token is self._cursor.end:
            raise Unreadable("stops_early", token.place)
        if token.text == "(":
            return self._units.behind(self._closed())
        if token.text == "|":
            tree = self._sum()
            if self._cursor.take_sign("|") is None:
                raise Unreadable("second_bar", token.place)
            return self._units.behind(Call("abs", tree))
        if token.kind == "word":
            return self._word(token)
        raise _unexpected(token)

    def _word(self, token: Token) -> Tree:
        name = self._vocabulary.symbol(token.text)
        if name is not None:
            return self._units.behind_symbol(Name(name, token.place))
        if (function := function_named(token.text)) is not None:
            return self._units.behind(Call(function, self._argument(token)))
        if self._vocabulary.is_one_length(token.text):
            return self._units.behind(Measured(Number(1.0), ((token.text, 1),)))
        meant = self._vocabulary.beginning(token.text)
        if len(meant) > 1:
            raise Unreadable("which_symbol", token.place, found=token.text, choices=" ".join(meant))
        raise _unexpected(token)

    def _argument(self, function: Token) -> Tree:
        """Read what a function is taken of: a bracket, or one number or symbol (`cos 35°`)."""
        cursor = self._cursor
        if cursor.take_sign("(") is not None:
            return self._closed()
        if cursor.ahead().kind == "number":
            number = self._numbers.read()
            angle = cursor.ahead().text
            if not is_angle(angle):
                return number
            cursor.take()
            return Measured(number, ((angle, 1),))
        token = cursor.take()
        name = self._vocabulary.symbol(token.text)
        if name is None:
            raise Unreadable("function_of_what", function.place, function=function.text)
        return Name(name, token.place)

    def _closed(self) -> Tree:
        """Read what stands in a bracket that is open already, up to its end."""
        tree = self._sum()
        if self._cursor.take_sign(")") is None:
            raise Unreadable("closing_bracket", self._cursor.end.place)
        return tree


def _unexpected(token: Token) -> Unreadable:
    """Return what is the matter with a token that nothing begins or goes on with here."""
    if token.kind == "number":
        return Unreadable("number_not_expected", token.place, found=token.text)
    if token.text.lower() in CLASSES_IN_WORDS:
        return Unreadable("class_alone", token.place, found=token.text)
    if token.kind == "word" and units_spelled(token.text) is not None:
        return Unreadable("unit_alone", token.place, found=token.text)
    if token.kind == "word":
        return Unreadable("unknown_word", token.place, found=token.text)
    return Unreadable("sign_not_expected", token.place, found=token.text)
