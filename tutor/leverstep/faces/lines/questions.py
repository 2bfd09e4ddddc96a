"""Asking a teacher one thing after the other, in plain lines, until each answer can be used."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import TypeVar

from leverstep.course.plain_text import near
from leverstep.drill.spreadsheet import column_called
from leverstep.faces.terminal import Listen, Say

Answer = TypeVar("Answer")

_EMPTY = 3
"""So many times in a row nothing is typed where something is needed, and it is given up."""


class Questions:
    """Says lines and asks for others: `say` says a line, `listen` asks for one, with a prompt."""

    def __init__(self, say: Say, listen: Listen) -> None:
        self.say = say
        self.listen = listen

    def until(self, prompt: str, read: Callable[[str], Answer]) -> Answer:
        """Ask until an answer can be used; `read` raises a ValueError where it can't, with why.

        Raises:
            EOFError: where the input ends before that, or nothing is typed again and again.
        """
        empty = 0
        while empty < _EMPTY:
            typed = self.listen(prompt).strip()
            empty = 0 if typed else empty + 1
            try:
                return read(typed)
            except ValueError as error:
                self.say(str(error))
        self.say("Nothing was typed three times in a row, so it ends here.")
        raise EOFError

    def one_of(self, prompt: str, names: Collection[str], usual: str) -> str:
        """Ask for one of some names; Enter alone stands for the usual one."""

        def read(typed: str) -> str:
            name = typed.casefold() or usual
            if name not in names:
                raise ValueError(f"Type {', '.join(names)}{near(name, names)}.")
            return name

        return self.until(f"{prompt} [{usual}]: ", read)


def place_typed(typed: str, there: Sequence[str]) -> int | None:
    """Return the place of one of some names of a table, typed as it is called there or by its
    number from 1; None for what is none of them.
    """
    called = column_called(typed)
    if called in there:
        return there.index(called)
    is_number = called.isdecimal() and 1 <= int(called[:9]) <= len(there)
    return int(called[:9]) - 1 if is_number else None


def title_of(typed: str) -> str:
    """Return a title as it was typed.

    Raises:
        ValueError: where it can't be one, with why.
    """
    if not typed.isprintable():
        raise ValueError("A title may have printable characters only.")
    return typed
