"""Reading files in TOML that authors wrote: bounded in every way before they are parsed.

The parser takes memory and time that grow faster than the text where tables lie deep in each other.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import LARGEST, Fault, FileError, Table, unreadable
from leverstep.course.plain_files import TEXT, TooLarge, read_text
from leverstep.course.plain_text import cut, plain

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

LARGEST_FILE = 200_000
"""Bytes; a file of problems or hints has some thousand."""

DEEPEST = 12
"""How many brackets may be open at once, and how many names a key may be made of."""

MOST_PIECES = 40_000
"""Words, texts, signs and lines of one file; the longest that ships has some two thousand."""

LONGEST_WORD = 100
"""Characters of a number or of a key; a moment of time has 25."""

_LINE = re.compile(r"\(at line (\d+), column \d+\)$")
_COMMA = re.compile(r"=\s*([-+]?\d+),(\d+)")
_SHARE = re.compile(r"=\s*(\d{1,9})/(\d{1,9})")
_MEASURED = re.compile(r"=\s*(\d+(?:\.\d+)?)\s*((?!e\d)[a-zA-Z°]+)")
_PERCENT = re.compile(r"=\s*(\d{1,9}(?:\.\d{1,9})?)\s*%")
_CROWDED = re.compile(r"""=\s*(\d+(?:\.\d+)?|"[^"]*")\s+([A-Za-z]\w*)\s*=""")
_COLON = re.compile(r"([A-Za-z]\w*)\s*:\s*(.+)")
_BARE = re.compile(r"=\s*([A-Za-z]\w*)")
_FLAGS = {"true": "true", "yes": "true", "false": "false", "no": "false"}
"""What is at times written for true and false, and how a file has it."""

_LISTED = ("load", "shown", "item", "week", "drill", "slip", "step", "term", "column")
"""Tables of which a file may have several."""

_VALUES = (
    'a key of one word, =, and one value such as 45, 0.02, true, "a text" or '
    "2027-03-01T09:00:00+01:00"
)
_PIECE = re.compile(
    r'''
    """(?:[^"\\]|\\.|"(?!""))*+(?:"{3,5}|\\?\Z)     # texts, closed or not
    |\'\'\'(?:[^']|'(?!''))*+(?:'{3,5}|\Z)
    |"(?:[^"\\\n]|\\.)*+"?
    |'[^'\n]*+'?
    |\#[^\n]*+
    |[\[{\]}.=,\n]
    |[^][{}.=,\s"'\#]++
    ''',
    re.VERBOSE | re.DOTALL,
)


def text_of(file: Traversable, called: str, largest: int = LARGEST_FILE) -> str:
    """Return the text of a file of an author, or of one that ships, `called` so in its faults.

    It may be a link that only the owner of its folder can have put there.

    Raises:
        FileError: where it can't be read, or has more than `largest` bytes.
    """
    try:
        if isinstance(file, Path):
            return read_text(file, largest, linked=True)
        return file.read_text(encoding=TEXT)
    except TooLarge as error:
        raise FileError([Fault(called, "", unreadable(error), "some kilobytes")]) from error
    except (OSError, ValueError) as error:
        expected = "a text saved as UTF-8" if isinstance(error, UnicodeError) else "a readable file"
        raise FileError([Fault(called, "", unreadable(error), expected)]) from error


def parsed(text: str, called: str) -> Table:
    """Return the table that a text in TOML holds, `called` so in its faults.

    Raises:
        FileError: where it is no TOML or goes beyond a bound, with the line that can't be read.
    """
    if beyond := _beyond(text):
        raise FileError([Fault(called, "", *beyond)])
    try:
        return tomllib.loads(text, parse_float=exact_number)
    except ValueError as error:
        raise FileError([Fault(called, "", *_no_toml(str(error), text))]) from error


def quoted(text: str) -> str:
    """Return a text as a text in TOML."""
    return json.dumps(text, ensure_ascii=False)


def top_keys(path: Traversable, largest: int = LARGEST_FILE) -> frozenset[str]:
    """Return the keys at the top of a file, which tell its kind; none where it can't be read."""
    try:
        return frozenset(parsed(text_of(path, "", largest), ""))
    except FileError:
        return frozenset()


def exact_number(text: str) -> Fraction | float:
    """Return a decimal exactly, but a float for what is no number, or none that a course has.

    Written out, a number such as 1e999999999 would fill the memory.
    """
    number = float(text)
    if number == 0:
        return Fraction(0)
    if not 1 / LARGEST < abs(number) <= LARGEST:
        return number
    whole, _, decimals = text.partition(".")
    if decimals.isdecimal():  # by far the most; a fraction made from whole numbers is quicker
        return Fraction(int(whole + decimals), 10 ** len(decimals))
    return Fraction(text)


def _beyond(text: str) -> tuple[str, str] | None:
    """Return which bound a text goes beyond and what was expected, None where it keeps them.

    Up to what the parser can't read, this sees the same brackets, texts and comments.
    """
    is_open, names = 0, 1
    for number, match in enumerate(_PIECE.finditer(text)):
        piece = match.group()
        if piece == ".":
            names += 1
        elif piece[0] in "[{]}=,\n":
            is_open += (piece in "[{") - (piece in "]}")
            names = 1
        elif piece[0] not in "\"'#" and len(piece) > LONGEST_WORD:
            found = f"{_line(text, match.start())} has a number or a key of {len(piece)} characters"
            return found, f"at most {LONGEST_WORD}"
        if max(is_open, names) > DEEPEST:
            found = f"{_line(text, match.start())} has tables or lists nested too deeply"
            return found, f"at most {DEEPEST}"
        if number == MOST_PIECES:
            return "the file has too many words and signs", f"at most {MOST_PIECES}"
    return None


def _once(line: str) -> str:
    """Return what was expected of a line that repeats a key or the heading of a table."""
    name = line.partition("#")[0].strip(" []")
    if not line.startswith("["):
        return "each key once"
    if name not in _LISTED:
        more = "; another force that is given is a [[load]]" if name == "effort" else ""
        return f"[{cut(name)}] once{more}"
    return f"[[{name}]] for one more, and for the first"


def _line(text: str, place: int) -> str:
    return f"line {text.count(chr(10), 0, place) + 1}"


def _no_toml(reason: str, text: str) -> tuple[str, str]:
    """Return what can't be read as TOML, and what was expected, from the reason of `tomllib`."""
    at = _LINE.search(reason)
    if at is None:
        if reason.endswith("(at end of document)"):
            last = text.rstrip().rpartition("\n")[2]
            return (
                f"it ends too early, after: {cut(plain(last))}",
                'a value, or a closing ", """ or ]',
            )
        return reason, "a TOML file"
    number = int(at[1])
    line = plain(" ".join(text.split("\n")[number - 1].split()))
    if reason.startswith("Cannot"):
        return f"line {number} repeats what is above: {cut(line)}", _once(line)
    found = f"line {number} can't be read: {cut(line)}"
    if set(line) & set("“”„‘’"):
        return found, """straight quotes: " or '"""
    return found, next((hint for hint in _hints(line) if hint), _VALUES)


def _hints(line: str) -> Iterator[str]:
    """Yield what was expected of a line, for each way in which it is often written wrongly."""
    if line.startswith(("//", "--", ";", "%")):
        yield "# before what is only said beside"
    if line.count('"') % 2:
        yield 'a closing ", or """ before and after a text of several lines'
    if line.count("{") != line.count("}"):
        yield "{ and } in pairs on one line"
    if line.startswith("[") and line.count("[") != line.count("]"):
        yield f"as many ] as [: {line.rstrip(']')}{']' * line.count('[')}"
    if crowded := _CROWDED.search(line):
        yield f"a comma before {crowded[2]}: {crowded[1]}, {crowded[2]} = …"
    if line.endswith((";", ",")) and "=" in line:
        yield f"nothing behind the value: {line.rstrip(';, ')}"
    if colon := _COLON.fullmatch(line):
        yield f"= in place of the colon: {colon[1]} = {colon[2]}"
    yield from _hints_on_values(line)


def _hints_on_values(line: str) -> Iterator[str]:
    """Yield what was expected of a line whose value is often written so."""
    if comma := _COMMA.search(line):
        yield f"a point for the comma: {comma[1]}.{comma[2]}"
    if (share := _SHARE.search(line)) and int(share[2]):
        yield f"a decimal for the fraction: {int(share[1]) / int(share[2]):.4g}"
    if percent := _PERCENT.search(line):
        yield f"a share in place of per cent: {float(percent[1]) / 100:g}"
    if measured := _MEASURED.search(line):
        unit = measured[2].replace("°", "deg")
        yield f'a number and its unit apart: value = {measured[1]}, unit = "{unit}"'
    bare = _BARE.search(line)
    if bare is None or bare[1] in ("true", "false", "inf", "nan"):
        return
    flag = _FLAGS.get(bare[1].casefold())
    yield f"{flag}, in lower case" if flag else f'a text in quotes: "{bare[1]}"'
