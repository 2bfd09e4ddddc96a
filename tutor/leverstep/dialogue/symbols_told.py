"""That a line may be typed in symbols, said where its numbers took long; and symbols completed."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import takewhile

from leverstep.course.symbols import spelt
from leverstep.entry.reading import after_symbol
from leverstep.entry.tree import is_arithmetic, names_in
from leverstep.statics.step import Step
from leverstep.working.working import Working
from leverstep.working.writing import formula

_LONG = 12
"""Keys; a line of more is long to type."""

_TYPED = str.maketrans({"×": "*", "÷": "/", "−": "-"})
_BEGUN = re.compile(r"[A-Za-z]\w*$")
_ONE_PRODUCT = re.compile(r"-\(([^()+-]+)\)")


def symbols_told(working: Working, key: str) -> str:
    """Return that symbols would have done, for a line right by a long row of numbers; else ""."""
    line = working.lines.get(key)
    if line is None or line.reading is None or line.reading.tree is None:
        return ""
    step, tree = working.step(key), line.reading.tree
    text = after_symbol(line.text, step)
    if len(text) <= _LONG or not is_arithmetic(tree) or any(names_in(tree)):
        return ""
    symbols = in_symbols(working, step)
    return f"You may also type {symbols}." if 0 < len(symbols) < len(text) else ""


def completed(before: str, symbols: Iterable[str]) -> str:
    """Return how a symbol that is begun at the end of a text goes on, as far as that is sure.

    Args:
        before: what is typed up to the cursor.
        symbols: those of the problem; their case counts.
    """
    begun = _BEGUN.search(before)
    if begun is None:
        return ""
    found = [one for one in symbols if one.startswith(begun[0])]
    same = takewhile(lambda letters: len(set(letters)) == 1, zip(*found, strict=False))
    return "".join(letters[0] for letters in same)[len(begun[0]) :]


def in_symbols(working: Working, step: Step) -> str:
    """Return a line in symbols as it can be typed now, "" where one of them has no value yet.

    It is told only where it would be right, typed so.
    """
    known = {"g", *(other for other in working.lines if working.step(other).kind.is_number)}
    if not step.kind.is_number or not step.quantities or not known.issuperset(step.quantities):
        return ""
    said = formula(working.question, step).partition(" = ")[2].translate(_TYPED)
    typed = _ONE_PRODUCT.sub(r"-\1", spelt(said).replace(" ", ""))
    return typed if working.would_stand(step.key, typed) else ""
