"""Whether a line speaks beside the working: of what would be, of shares, or how things compare.

What such a line says of a number is not what the number of that quantity is.
"""

from __future__ import annotations

import re

_WORDS = (
    "without", "would", "if", "per", "each", "either", "instead", "more", "less", "than", "extra",
    "added", "difference", "remaining", "larger", "smaller", "bigger", "twice", "double",
    "doubled", "compared", "percent", "share", "alone", "maximum", "minimum", "most", "least",
    "ignoring", "neglecting", "empty", "suppose", "over", "versus", "vs", "relative", "estimate",
    "guess", "expect", "should", "others",
)  # fmt: skip
_WAY = r"(?:up|down|left|right|upwards?|downwards?|(?:anti|counter)?-?clockwise|a?cw|ccw)"
_ASIDE = re.compile(
    rf"""
    \b(?:{"|".join(_WORDS)})\b
    | \badds\b(?!\s+(?:its\s+)?[\d.]+\s*[*·×x]\s*[\d.])      # what is worked out is its own value
    | ^\s*[-–−]\s+[\d.]                             # a minus sign, or a mark before a point
    | \?                                            # a student who asks does not claim
    | \d\s*(?:%|per\ ?cent\b)(?!\s*(?:of|\*|x|×)\s*[\d.])    # a share as the result
    | \d\s*:\s*\d                                   # `15.6 : 1`
    | \d\s*(?:times|x|×)\s+(?:as|the|what|more)\b   # `4 x as hard`
    | \b(?:both|two|all)\ (?:hands|legs|arms|sides|feet)\b
    | {_WAY}\s*(?:is|=|as|being)?\s*(?:\+|positive|pos\b)    # `down is +`
    | \b(?:positive|pos)\s*(?:is|=)?\s*{_WAY}\b
    """,
    re.IGNORECASE | re.VERBOSE,
)


_SUPPOSED = re.compile(
    r"\b(?:without|would|if|instead|ignoring|neglecting|suppose|supposing|imagine)\b", re.IGNORECASE
)
_SHARE_AT_END = re.compile(r"\s*\([^()=]*\d\s*(?:%|per ?cent\b)[^()=]*\)\W*$")
_STRUCK_OUT = re.compile(r"~~[^~]*~~")
_CONSTANT = re.compile(r"=\s*const(?:ant)?\b", re.IGNORECASE)
_GOES_ON = re.compile(r"^\W*(?:then|so|that|this|which|giving|gives|it|and|hence)\b", re.IGNORECASE)


def answered(text: str) -> str:
    """Return what a line says behind a number that it asks about, else all of it: `11 kW? no: ω =
    2.79 rad/s`; what is asked for in words is what is said then: `the pull? = 409 N`. What stands
    before the question stays, and so does what is only supposed.
    """
    asked, _, said = text.rpartition("?")
    before, mark, doubt = asked.rpartition(";")
    is_doubt = re.search(r"\d", doubt) and re.match(r"\W*[^\W\d]", said)
    if not is_doubt or "=" not in said or _SUPPOSED.search(asked):
        return text
    return f"{before}{mark}{said}"


def without_remark(text: str) -> str:
    """Return a line without what is struck out; one of working without the share that a bracket at
    its end tells: `F = 692 N (93 % of body weight)`.
    """
    text = _STRUCK_OUT.sub(" ", text)
    working = _SHARE_AT_END.sub("", text)
    return working if "=" in working and not is_aside(working) else text


def says_constant(text: str) -> bool:
    """Return whether a line only says that something does not change: `ω = 160°/s = const`."""
    return _CONSTANT.search(text) is not None


def goes_on_supposing(text: str, before: str) -> bool:
    """Return whether a line goes on with what the line before supposed: `then F = 878 N`."""
    return _SUPPOSED.search(before) is not None and _GOES_ON.search(text) is not None


def is_aside(text: str) -> bool:
    """Return whether a line, as it was typed, speaks beside the working."""
    return _ASIDE.search(text) is not None
