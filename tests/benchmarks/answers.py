"""How soon the tutor answers in a terminal: a key that is typed, and a problem that is opened.

Its bytes are read as a terminal reads them; the clock stops when what was typed or opened stands
on the screen. On a busy machine both wait for the processor: an app with one field, typed into by
turns, tells how much of that is the tutor's.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

from helpers.terminals import Terminal

SIZE = (36, 120)
"""Rows and columns."""

TYPED = "7.25*9.81*0.380 N"
"""A line; its first key is not in the example that a field shows before anything is typed."""

LINES = 25
WHOLE = 30
"""Letters of a title that stands whole in the list."""

OPENED = 3
"""Of so many problems one is opened."""

ESCAPE, RUB_OUT = "\x1b", "\x15"

ONE_FIELD = """
from textual.app import App
from textual.widgets import Input

class OneField(App):
    def compose(self):
        yield Input(placeholder="one field")

OneField().run()
"""


def key_times(home: Path) -> tuple[list[float], list[float]]:
    """Return the seconds from each key to its sign: in a line of a problem, and in one field."""
    ours, theirs = list[float](), list[float]()
    bare = [sys.executable, "-c", ONE_FIELD]
    with (
        Terminal("practise", "elbow-full-pail", "--seed", "1", home=home, size=SIZE) as tutor,
        Terminal(home=home, size=SIZE, program=bare) as field,
    ):
        tutor.shows("W_f =")
        field.shows("one field")
        for _ in range(LINES):
            ours += _typed(tutor, -2)
            theirs += _typed(field, 1)
    return ours, theirs


def _typed(terminal: Terminal, row: int) -> list[float]:
    """Type a line on a row of the screen, and take it away; return the seconds of each key."""
    terminal.settle()
    spent = []
    for count, key in enumerate(TYPED, 1):
        shown = TYPED[:count]
        spent.append(_until(terminal, key, lambda rows, shown=shown: shown in rows[row]))
    terminal.sends(RUB_OUT)
    terminal.stands(lambda rows: TYPED[0] not in rows[row])
    return spent


def _until(terminal: Terminal, keys: str, is_there: Callable[[list[str]], bool]) -> float:
    """Return the seconds from a key until something stands on the screen."""
    start = perf_counter()
    terminal.sends(keys)
    terminal.stands(is_there)
    return perf_counter() - start


def open_times(home: Path) -> list[float]:
    """Return the seconds from Enter on the list of problems until the first line is asked for.

    The algebra is loaded by then: the first one opened is left out.
    """
    from leverstep.course.shelf import load_shelf

    every = (card.title for card in load_shelf().offered)
    titles = [title for title in every if len(title) <= WHOLE][::OPENED]
    spent = []
    with Terminal(home=home, size=SIZE) as tutor:
        tutor.shows("Guidance:")
        for title in titles:
            tutor.settle()
            tutor.sends(title)
            tutor.stands(lambda rows, title=title: any(row.strip() == title for row in _lit(rows)))
            tutor.settle()
            spent.append(_until(tutor, "\r", lambda rows: "line 1 of" in rows[0]))
            tutor.settle()
            tutor.sends(ESCAPE)
            tutor.stands(lambda rows: "leverstep" in rows[0])
            tutor.settle()
            tutor.sends(ESCAPE)
    return spent[1:]


def _lit(rows: list[str]) -> list[str]:
    """Return what is told beside the list of the problem that is lit."""
    return [row.partition("│")[2] for row in rows]
