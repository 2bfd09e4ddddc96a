"""The numbers, words and signs of a line, and which of them belong to a formula."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import NamedTuple

from leverstep.course.symbols import SPELT
from leverstep.entry.vocabulary import FUNCTIONS
from leverstep.statics.units import unit

OPERATORS = frozenset(["*", "/", "^", "+", "-", "=", "**"])

_LEXEME = re.compile(
    r"""(?P<space>\s+)
    |(?P<number>(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+(?![0-9_A-Za-z]))?)
    |(?P<word>[^\W\d_](?:[^\W_]|_(?=\w))*'?)
    |(?P<sign>\*\*|.)
    """,
    re.VERBOSE | re.DOTALL,
)
_OF_AXIS = re.compile(r"[A-Z][xy]")
_FUNCTION_WITH_NUMBER = re.compile(r"(a?(?:sin|cos|tan)|sqrt)([0-9]+)")
_UNITS_OF_FORCE = ("kN", "N", "lbf", "lb", "kg")
ENGLISH = frozenset({
    "a", "i", "at", "is", "in", "of", "to", "so", "it", "on", "by", "or", "as", "no", "be", "we",
    "he", "an", "if", "do", "go", "my", "us", "the", "and", "for", "per", "from", "due",
    "ok", "two",
})  # fmt: skip
"""Short words that stand between formulas more often than in them."""
_NEVER = frozenset({
    "up", "down", "left", "right", "cw", "ccw", "sum", "net", "let", "so", "is", "mg", "arm", "leg",
})  # fmt: skip
"""Words that are no symbols, unless the page made them such."""
_LIKE_GIVENS = ("m", "g", "in", "N", "s", "J")
"""Units that are symbols of a problem, too."""
_LONGEST_SYMBOL = 12
_LONGEST_WORDLESS = 3
"""Letters of a symbol that is hardly a word, too."""


class Lexeme(NamedTuple):
    """A number, word or sign of a line, as written; `kind` says which of these."""

    kind: str
    text: str


NOTHING_THERE = Lexeme("", "")


@dataclass(frozen=True, slots=True)
class _Place:
    """A lexeme with the one before it, the two behind it, and the formula that lies before it."""

    lexeme: Lexeme
    before: Lexeme
    after: Lexeme
    beyond: Lexeme
    run: list[Lexeme]

    @property
    def touches(self) -> bool:
        """Return whether it stands beside a sign of arithmetic."""
        return self.before.text in (*"*/+-(^=|",) or self.after.text in (*"*/+-=^)|",)


def lexemes_of(text: str, known: Collection[str]) -> list[Lexeme]:
    """Return the lexemes of a line; words such as `Nm` or `sin26` are parted.

    Args:
        text: the line.
        known: the symbols that the problem and the page have.
    """
    found = [Lexeme(match.lastgroup or "", match.group()) for match in _LEXEME.finditer(text)]
    return [part for one in found if one.kind != "space" for part in _parted(one, known)]


def runs_of(lexemes: list[Lexeme], known: Collection[str]) -> list[tuple[list[str], list[Lexeme]]]:
    """Return the formulas of a line, each with the words before it; the last may be empty.

    Args:
        lexemes: those of the line.
        known: the symbols that the problem and the page have.
    """
    runs: list[tuple[list[str], list[Lexeme]]] = []
    words: list[str] = []
    run: list[Lexeme] = []
    around = [NOTHING_THERE, *lexemes, NOTHING_THERE, NOTHING_THERE]
    for place, lexeme in enumerate(lexemes):
        before, _, after, beyond = around[place : place + 4]
        if _is_formula(_Place(lexeme, before, after, beyond, run), known):
            run.append(lexeme)
            continue
        if run:
            runs.append((words, run))
            words, run = [], []
        words.append(lexeme.text)
    return [*runs, (words, run)]


def _parted(lexeme: Lexeme, known: Collection[str]) -> list[Lexeme]:
    if lexeme.kind != "word" or lexeme.text in known:
        return [lexeme]
    text = lexeme.text
    if match := _FUNCTION_WITH_NUMBER.fullmatch(text):
        return [Lexeme("word", match.group(1)), Lexeme("number", match.group(2))]
    for force in _UNITS_OF_FORCE:
        if text.startswith(force) and text.removeprefix(force) in ("m", "cm", "mm"):
            return [Lexeme("word", force), Lexeme("word", text.removeprefix(force))]
    return [lexeme]


def _is_formula(place: _Place, known: Collection[str]) -> bool:
    """Return whether a lexeme belongs to a formula, not to the words around it."""
    kind, text = place.lexeme
    if kind == "number":
        return True
    if kind == "sign":
        if text == ":":
            begins = bool(place.run) and (place.run[-1].kind != "sign" or place.run[-1].text == ")")
            return begins and (place.after.kind in ("number", "word") or place.after.text == "(")
        return text in OPERATORS or text in (*'()|°"',)
    return _is_symbol(place, known) or _is_unit(place) or _is_function(place)


def _is_function(place: _Place) -> bool:
    after = place.after
    begins_term = after.kind in ("number", "word") or after.text in ("(", "-")
    return place.lexeme.text.lower() in FUNCTIONS and begins_term


def _is_unit(place: _Place) -> bool:
    """Return whether a word is a unit of what lies before it."""
    text, before, after = place.lexeme.text, place.before, place.after
    if not place.run or unit(text) is None:
        return False
    if text == "in" and (after.kind == "number" or (after.kind == "word" and len(after.text) > 2)):
        return unit(before.text) is not None and after.text.endswith("clockwise")
    if text == "s" and before.text == "'":
        return False
    if before.kind == "word":
        return unit(before.text) is not None or place.run[-1].text == before.text
    return before.kind == "number" or before.text in (*")*/°-",)


def _is_symbol(place: _Place, known: Collection[str]) -> bool:
    """Return whether a word is a symbol: the problem's, one of the page, or a short one in use."""
    text, before, after = place.lexeme.text, place.before, place.after
    lower = text.lower()
    is_unit, follows_number = unit(text) is not None, before.kind == "number"
    if lower in FUNCTIONS or (lower in _NEVER and text not in known):
        return text == "mg" and place.touches
    if text in SPELT.values():
        return True
    if text not in known and is_unit and follows_number:
        return False
    if text in known and (text not in ENGLISH or place.touches or _is_of_term(place)):
        return _is_known_symbol(place)
    if _OF_AXIS.fullmatch(text) and after.text == "=":
        return True  # `My = …`
    if lower in ENGLISH and not (len(text) == 1 and text.isupper()):
        return len(text) == 1 and (before.text in ("*", "/") or after.text in (*"*/^=",))
    return _is_new_symbol(place, known)


def _is_of_term(place: _Place) -> bool:
    """Return whether a letter that is a word too stands as a factor: `a cos 47°`, `0.7588a`."""
    is_behind = place.before.kind == "number" and place.after.kind in ("", "sign")
    return is_behind or place.after.text.lower() in FUNCTIONS


def _is_new_symbol(place: _Place, known: Collection[str]) -> bool:
    """Return whether what is no word and not known yet is a symbol, by its form and its place."""
    text, after = place.lexeme.text, place.after
    if "_" in text or any(character.isdigit() for character in text):
        is_term = after.text.lower() in FUNCTIONS  # `T1 cos 30`
        return len(text) <= _LONGEST_SYMBOL and (place.touches or "_" in text or is_term)
    if unit(text) is not None:
        return len(text) <= 2 and (after.text == "=" or _is_no_unit_here(place, known))
    return _is_factor(place, known) or _is_short_symbol(place)


def _is_known_symbol(place: _Place) -> bool:
    """Return whether a word that is a symbol of the problem or the page is meant as that here."""
    text, before, after = place.lexeme.text, place.before, place.after
    if len(text) > _LONGEST_WORDLESS and text.islower() and after.kind == "word":
        return False  # `hand moment = …`, where `hand = …` was written before
    is_behind_number = unit(text) is not None and before.kind == "number"
    return not (is_behind_number and after.text != "=") or text not in _LIKE_GIVENS


def _is_no_unit_here(place: _Place, known: Collection[str]) -> bool:
    """Return whether a word that may be a unit can't be one where it stands."""
    before = place.before
    if place.touches and before.kind != "number" and before.text not in ("/", "*"):
        return True
    return before.kind in ("", "sign") and _is_factor(place, known)  # `W d_b = F d_h`


def _is_factor(place: _Place, known: Collection[str]) -> bool:
    """Return whether a capital stands before a symbol with an index, or begins a term with one that
    is known: `F b = …`.
    """
    text, after = place.lexeme.text, place.after
    begins = place.before.kind in ("", "sign") and place.beyond.text in (*"=+-",)
    is_short = len(text) == 1 and len(after.text) < _LONGEST_WORDLESS
    is_known = is_short and begins and after.text in known and after.text not in ENGLISH
    return text.isupper() and ("_" in after.text or is_known)


def _is_short_symbol(place: _Place) -> bool:
    """Return whether a word that nothing else is known of is short enough to be a symbol."""
    text, before, after = place.lexeme.text, place.before, place.after
    if len(text) > 3:
        return False
    if place.touches:
        return True
    if before.kind == "number":
        return len(text) <= 2 or text.isupper()
    if after.text.lower() in FUNCTIONS and len(text) < 3 and (len(text) == 1 or text[0].isupper()):
        return True  # `A cos 19`, `Tu cos 62`
    if after.text == "(" and place.beyond.text.lower() in FUNCTIONS:
        return len(text) == 1 and text.isupper()  # `I (cos 46 + …)`
    if len(text) > 1:
        return False
    if text.isupper():
        return "_" in before.text + after.text
    return before.text.lower() in FUNCTIONS
