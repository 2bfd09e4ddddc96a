"""Right lines of pages with one thing changed, worked out anew: what a slip of the pen leaves.

The change is made by a program that knows nothing of statics: another number of the page, sine for
cosine, a ratio turned over, a sign, a term left out. Now and then the line is true by chance.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterator
from typing import NamedTuple

from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.claims.plain_writing import decimal_comma

from helpers.labelled_pages import LabelledPage

_WORKED_OUT = re.compile(
    r"(?P<sum>(?:[\d.]+|sin|cos|sqrt|[-+*/x×·().°^ ÷−]|\b(?:N|m|cm|kg|lb|in|lbf)\b)+?)\s*=\s*"
    r"(?P<sign>[-+−]?\s?)(?P<result>\d+(?:\.\d+)?)(?![\d.]*\s*[-+*/x×·])"
)
_SIGNS = {"×": "*", "·": "*", "÷": "/", "−": "-", "^": "**"}
_UNIT = re.compile(r"\b(?:N|m|cm|kg|lb|in|lbf)\b|°")
_FUNCTION = re.compile(r"(sin|cos)\s*\(?\s*([\d.]+)\s*\)?")
_ARITHMETIC = re.compile(r"[\d.eE()+*/ -]+|math\.sqrt")
_NUMBER = re.compile(r"(?<![\d.])\d+\.?\d*(?![\d.])")
_QUOTIENT = re.compile(r"\s*([\d.]+)\s*/\s*([\d.]+)\s*")
_ALIKE, _CHANGED = 0.02, 0.03
"""How near the result stands to its working, and how far at least that of a change, as shares."""
_OTHERS = 3
"""So many other numbers of the page are put in the place of each."""


class Altered(NamedTuple):
    """A line of a page with one thing changed, and what that is."""

    number: int
    change: str
    text: str


def worked_out(text: str) -> float | None:
    """Return what arithmetic comes to, angles in degrees; None where it is none."""
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, plain)
    text = _UNIT.sub("", re.sub(r"(?<=[\d) ])x(?=[\d( ])", "*", text))
    text = _FUNCTION.sub(lambda m: f"({getattr(math, m[1])(math.radians(float(m[2])))!r})", text)
    text = re.sub(r"(?<=[\d.)])\s*(?=\()", "*", text).replace("sqrt", "math.sqrt").strip()
    if not re.search(r"[-+*/(]", text[1:]) or _ARITHMETIC.sub("", text):
        return None
    try:
        return float(eval(text, {"__builtins__": {}, "math": math}))
    except (SyntaxError, TypeError, ArithmeticError, ValueError):
        return None


def altered_lines(page: LabelledPage, chance: random.Random) -> list[Altered]:
    """Return the right lines of a page with one thing changed each, in an order by chance."""
    found = []
    for number, text in _right_lines(page):
        sums = [one for one in _WORKED_OUT.finditer(text) if _holds(one)]
        if len(sums) != 1:
            continue
        there = _NUMBER.findall(" ".join(page.texts[:number]))
        others = [one for one in there if len(one) > 1]
        for change, otherwise in _changes(
            sums[0]["sum"], chance.sample(others, min(_OTHERS, len(others)))
        ):
            if line := _with(text, sums[0], otherwise):
                found.append(Altered(number, change, line))
    chance.shuffle(found)
    return found


def standing_of(page: LabelledPage, altered: Altered) -> LineStanding:
    """Return what comes of a changed line, behind the lines before it as they are."""
    there = Page(page.question, decimal_comma(page.texts), "\n".join(page.texts))
    for text in page.texts[: altered.number - 1]:
        there.write(text)
    return there.write(altered.text).standing


def _right_lines(page: LabelledPage) -> Iterator[tuple[int, str]]:
    """Yield the right lines of a page that has no wrong one, and writes decimals with points."""
    if "wrong" in page.found.values() or decimal_comma(page.texts):
        return
    for number, found in page.found.items():
        if found == "right":
            yield number, page.texts[number - 1]


def _holds(one: re.Match[str]) -> bool:
    value = worked_out(one["sum"])
    return value is not None and math.isclose(abs(value), float(one["result"]), rel_tol=_ALIKE)


def _changes(working: str, others: list[str]) -> Iterator[tuple[str, str]]:
    """Yield arithmetic with one thing changed, each with what that is."""
    for one, other in (("sin", "cos"), ("cos", "sin")):
        if one in working:
            yield "sine and cosine", working.replace(one, other)
    if ratio := _QUOTIENT.fullmatch(working):
        yield "upside down", f" {ratio[2]} / {ratio[1]} "
    for one in _NUMBER.finditer(working):
        for other in others:
            yield "another number", working[: one.start()] + other + working[one.end() :]
    for sign in re.finditer(r"(?<=[\d)]) ?([-+]) ?(?=[\d(])", working):
        turned = "+" if sign[1] == "-" else "-"
        yield "sign", working[: sign.start(1)] + turned + working[sign.end(1) :]
    if term := re.search(r" ?[-+] ?[\d.]+$", working.rstrip()):
        yield "left out", working[: term.start()] + " "


def _with(text: str, one: re.Match[str], otherwise: str) -> str:
    """Return a line with other arithmetic and its result, "" where that is hardly another."""
    value, before = worked_out(otherwise), worked_out(one["sum"])
    if not value or not before or math.isclose(abs(value), abs(before), rel_tol=_CHANGED):
        return ""
    size = abs(value)
    figures = max(3, len(one["result"].replace(".", "").lstrip("0")))
    result = f"{size:.{max(0, figures - 1 - math.floor(math.log10(size)))}f}"
    between = text[one.end("sum") : one.start("result")]
    return text[: one.start("sum")] + otherwise + between + result + text[one.end("result") :]
