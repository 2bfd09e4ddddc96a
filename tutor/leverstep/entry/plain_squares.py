"""Squares that are written with a plain 2 behind the symbol: `R2 = Rx2 + Ry2`."""

from __future__ import annotations

import re
from collections.abc import Collection

from leverstep.entry.vocabulary import Vocabulary

_SQUARED = re.compile(r"(?<![\w.])(?P<name>[^\W\d]\w*?)2(?![\w.])")
_SUM_OF_TWO = re.compile(r"(?<![\w.])[^\W\d]\w*?2\s*\+\s*[^\W\d]\w*?2(?![\w.])")


def squares_marked(text: str, symbols: Collection[str]) -> str:
    """Return a line with `^2` for each such square, where two of them are added up.

    Args:
        text: what was typed.
        symbols: those of the problem; one that ends in 2 is that symbol.
    """
    if "+" not in text or not _SUM_OF_TWO.search(text):
        return text
    vocabulary = Vocabulary(symbols)

    def marked(square: re.Match[str]) -> str:
        name = square["name"]
        is_square = vocabulary.symbol(square.group()) is None and vocabulary.symbol(name)
        return f"{name}^2" if is_square else square.group()

    return _SQUARED.sub(marked, text)
