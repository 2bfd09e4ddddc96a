"""Where the reading of one side of a line stands: the tokens ahead, and those taken."""

from __future__ import annotations

from leverstep.entry.tokens import Token

POWER = ("^", "**")
"""The signs of a power."""

FURTHEST = 2
"""So many tokens beyond the next one are looked at."""


class TokenCursor:
    """The tokens of one side, read one after the other; `position` is that of the next.

    After the last one comes `end`, a token without text. Nothing is read behind that.
    """

    def __init__(self, tokens: list[Token]) -> None:
        """Begin at the first of some tokens, of which there is at least one."""
        place = tokens[-1].end
        self.end = Token("end", "", place, place)
        self.position = 0
        self._tokens = [*tokens, *[self.end] * (1 + FURTHEST)]

    def ahead(self, further: int = 0) -> Token:
        """Return the next token, or one up to `FURTHEST` beyond it, without taking it."""
        return self._tokens[self.position + further]

    def take(self) -> Token:
        """Take the next token, whatever it is."""
        token = self._tokens[self.position]
        self.position += 1
        return token

    def take_sign(self, *signs: str) -> Token | None:
        """Take the next token where it is one of these signs; else None, and nothing is taken."""
        token = self._tokens[self.position]
        if token.text not in signs:
            return None
        self.position += 1
        return token
