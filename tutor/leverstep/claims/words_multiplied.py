"""Names of forces that stand in a formula as its symbols: `hands * 137.5 = soil * 40`."""

from __future__ import annotations

import re
from collections.abc import Collection

_FORCE_OF = (
    r"(?:(?:the\s+)?(?:force|weight|pull|push)\s+(?:of|in|from|on|at)\s+(?:the\s+|my\s+|both\s+)?)?"
)
_MORE = r"(?:\s+(?:force|pull|push|weight|thing)\b)?"
_WORD = re.compile(
    rf"{_FORCE_OF}\b(?P<before>[A-Za-z]{{4,}}){_MORE}(?=\s*\*\s*[\d.(])"
    r"|(?<=[\d)])(?P<times>\s*\*\s*)(?:the\s+)?(?P<behind>[A-Za-z]{4,})\b(?!\s*\()"
)


def words_multiplied(plain: str, names: Collection[str]) -> tuple[str, frozenset[str]]:
    """Return a line made plain in which a force that is multiplied is one word, and these words.

    Args:
        plain: the line.
        names: the words that forces are called by.
    """
    found: set[str] = set()

    def bare(match: re.Match[str]) -> str:
        word = match["before"] or match["behind"]
        if word.lower() not in names:
            return match.group()
        found.add(word)
        return f"{match['times'] or ''}{word}"

    return _WORD.sub(bare, plain), frozenset(found)
