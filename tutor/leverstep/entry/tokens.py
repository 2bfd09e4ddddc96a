"""The tokens of an entry: the text in pieces, after the many ways to write a sign are made one.

Every limit is checked before the work that it bounds.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from leverstep.course.symbols import SPELT
from leverstep.entry.tree import Number, Unreadable
from leverstep.statics.units import unit

LONGEST_ENTRY = 120
MOST_TOKENS = 60
MOST_DIGITS = 25
LARGEST_EXPONENT = 30

GREEK = {**SPELT, "Σ": "sum"}

MEANT = {
    "≈": "=", "−": "-", "–": "-", "‐": "-", "‑": "-",
    "×": "*", "·": "*", "⋅": "*", "∙": "*", "•": "*", "✕": "*",
    "÷": "/", "∕": "/", "⁄": "/", "：": ":",
    "²": "^2", "³": "^3", "⁻": "^-", "¹": "1",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ",
    "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "º": "°", "√": "sqrt ",
}  # fmt: skip
"""Signs that mean another, and that one."""
VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
"""Fractions of one character, and how they are written out."""

_LETTERS = f"A-Za-z{''.join(GREEK)}"

_TOKEN = re.compile(
    rf"""(?P<space>[ ]+)
    |(?P<number>(?:[0-9][0-9.,]*|\.[0-9]+)(?:[eE][+-]?[0-9]+(?![0-9_]))?)
    |(?P<word>(?i:(?:arc|a)?(?:sin|cos|tan)|sqrt)(?=[0-9])
        |[{_LETTERS}](?:[{_LETTERS}0-9]|_(?=[A-Za-z0-9]))*)
    |(?P<sign>\*\*|[-+*/^():=|°%"']|(?<=[A-Za-z])\.(?=[A-Za-z]))
    |(?P<other>.)
    """,
    re.VERBOSE,
)


class Token(NamedTuple):
    """A piece of text: its kind, the text after signs are made alike, and where it was typed."""

    kind: str
    text: str
    place: int
    end: int


def check_length(text: str) -> None:
    """Raise Unreadable where a text is longer than any entry, before anything is sought in it."""
    if len(text) > LONGEST_ENTRY:
        raise Unreadable("too_long", most=LONGEST_ENTRY)


def tokenize(text: str) -> list[Token]:
    """Return the tokens of a text.

    Raises:
        Unreadable: where the text is empty, too long, or has a character that means nothing here.
    """
    check_length(text)
    if not text.strip():
        raise Unreadable("nothing")
    text = _FULL_STOP.sub("", text)
    tokens: list[Token] = []
    if not _KNOWN.issuperset(text):
        place = next(place for place, character in enumerate(text) if character not in _KNOWN)
        raise Unreadable("character", place)
    alike, places = _signs_alike(text)
    for match in _TOKEN.finditer(alike):
        kind, place = match.lastgroup or "", places[match.start()]
        if kind == "other":
            raise Unreadable("character", place)
        if kind != "space":
            tokens += _with_power(Token(kind, match.group(), place, places[match.end()]))
        if len(tokens) > MOST_TOKENS:
            raise Unreadable("too_many_parts")
    return _with_one_mark(_join_thousands(tokens))


def _with_power(token: Token) -> list[Token]:
    """Return a unit with a digit behind it (`s2`) as the unit and its power, else the token."""
    if token.kind != "word" or token.text[-1] not in "23":
        return [token]
    letters, digit = token.text[:-1], token.text[-1]
    if unit(letters) is None:
        return [token]
    place = token.end - 1
    return [
        Token("word", letters, token.place, place),
        Token("sign", "^", place, place),
        Token("number", digit, place, token.end),
    ]


_FULL_STOP = re.compile(r"(?<=[A-Za-z°)])\.\s*$")
"""The end of a sentence, as dictation writes it: `506.1 N.`"""

_TIMES = re.compile(r"(?<![A-Za-z_])(?<!\b0)[xX](?![A-Za-z_])|(?<=[\w)°] )\.(?= [\w(])")
"""An x or a full stop that stands alone is a sign of multiplication; 0x10 is no number here."""

_KNOWN = frozenset(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,_+-*/^():=|°%\"'"
).union(VULGAR, GREEK, MEANT)
_PIECES = MEANT | {character: f" {fraction}" for character, fraction in VULGAR.items()}


def _signs_alike(text: str) -> tuple[str, list[int]]:
    """Return the text with signs made alike, and where each of its characters and its end lie."""
    if _PIECES.keys().isdisjoint(text):
        return _TIMES.sub("*", text), list(range(len(text) + 1))
    pieces = [_PIECES.get(character, character) for character in text]
    places = [place for place, piece in enumerate(pieces) for _ in piece]
    return _TIMES.sub("*", "".join(pieces)), [*places, len(text)]


_THOUSANDS = re.compile(r"[0-9]{1,3}( [0-9]{3})*")
_THREE_DIGITS = re.compile(r"[0-9]{3}([.,][0-9]*)?")


def _join_thousands(tokens: list[Token]) -> list[Token]:
    """Join `1 234.5` into one number: one to three digits, then groups of three after a space."""
    joined: list[Token] = []
    for token in tokens:
        last = joined[-1] if joined else None
        if (
            last is not None
            and last.kind == token.kind == "number"
            and _THOUSANDS.fullmatch(last.text)
            and _THREE_DIGITS.fullmatch(token.text)
            and token.place == last.end + 1
        ):
            joined[-1] = Token("number", f"{last.text} {token.text}", last.place, token.end)
        else:
            joined.append(token)
    return joined


_TWO_WAYS = re.compile(r"(?!0+,)[0-9]{1,3},[0-9]{3}")
"""What may be thousands or decimals: `2,205`, but neither `0,205` nor `2,20`."""

_DECIMALS = re.compile(rf"(?!{_TWO_WAYS.pattern}(?:e|$))[0-9][0-9 ]*,[0-9]+(?:e.*)?", re.IGNORECASE)


def _with_one_mark(tokens: list[Token]) -> list[Token]:
    """Read every comma of a line as decimals, where one can be nothing else: `11,0/2,205`."""
    numbers = [token.text for token in tokens if token.kind == "number"]
    if any("." in text for text in numbers) or not any(map(_DECIMALS.fullmatch, numbers)):
        return tokens
    return [
        token._replace(text=token.text.replace(",", "."))
        if token.kind == "number" and token.text.count(",") == 1
        else token
        for token in tokens
    ]


def read_number(token: Token) -> Number:
    """Return the number of a token.

    Raises:
        Unreadable: where it has too many digits, or can be read in two ways.
    """
    text = token.text.replace(" ", "")
    if sum(map(str.isdigit, text)) > MOST_DIGITS:
        raise Unreadable("too_many_digits", token.place, most=MOST_DIGITS)
    mantissa, _, exponent = text.lower().partition("e")
    if exponent and abs(int(exponent)) > LARGEST_EXPONENT:
        raise Unreadable("power_of_ten", token.place, most=LARGEST_EXPONENT)
    return number_of(_with_decimal_point(mantissa, token), float(f"1e{exponent or 0}"))


def number_of(digits: str, scale: float = 1.0) -> Number:
    """Return the number of some digits, with a point among them or none, times a power of ten."""
    decimals = len(digits.partition(".")[2])
    figures = len(digits.replace(".", "").lstrip("0"))
    return Number(float(digits) * scale, 0.5 * 10**-decimals * scale, figures)


def _with_decimal_point(mantissa: str, token: Token) -> str:
    """Return a number with a point for its decimals and no other marks."""
    commas, points = mantissa.count(","), mantissa.count(".")
    if commas == 0 and points <= 1:
        return mantissa
    if commas == 1 and points == 0:
        whole, _, decimals = mantissa.partition(",")
        if _TWO_WAYS.fullmatch(mantissa):
            raise Unreadable("comma", token.place, whole=whole, decimals=decimals)
        return f"{whole}.{decimals}"
    for thousands, decimal in ((",", "."), (".", ",")):
        groups = re.escape(thousands)
        if re.fullmatch(
            rf"[0-9]{{1,3}}({groups}[0-9]{{3}})+({re.escape(decimal)}[0-9]*)?", mantissa
        ):
            both = commas and points
            if both or mantissa.count(thousands) > 1:
                return mantissa.replace(thousands, "").replace(decimal, ".")
    raise Unreadable("marks_of_number", token.place)
