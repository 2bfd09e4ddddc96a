"""A line of a working as it stands on the paper, and how texts are parted into rows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from rich.cells import cell_len
from textual.content import Content

from leverstep.course.problem import Question
from leverstep.statics.kinds import Part
from leverstep.statics.step import Step
from leverstep.working.page import prompt_of, written_line
from leverstep.working.standing_lines import Line
from leverstep.working.wording import PARTS

MARGIN, TEXT_WIDTH = 11, 62
"""Columns of the margin of a list of lines, and of what stands behind it."""

_WORD = re.compile(r" *(?:(?<=\d) (?=[A-Za-z°])|[^ \n])+[ \n]*|[ \n]+")
"""What stays on one row where it fits: a word, or a number with its unit."""

_BEFORE = re.compile(r"(?<=[^=+\-−*×·/÷(])(?<![\d.][eE])(?=[=+\-−*×·/÷(])")
"""Where a word that is longer than a row is parted: before a sign, though not within a number."""

NO_BREAK = "\u00a0"
"""A space at which no row ends."""

HANGING = 2
"""Columns by which all rows of a line but the first are set in."""


def section_of(question: Question, step: Step) -> str:
    """Return the heading that a step stands under."""
    part, steps = step.kind.part, question.derivation.asked
    heading = PARTS[part]
    if part is Part.FORCES and all(one.unit == "kg" for one in steps if one.kind.part is part):
        heading = "Masses in kilograms"
    if part is Part.DISTANCES and question.at(step).problem.posture.names_length:
        heading = "Distances"
    return heading


def line_text(step: Step, line: Line | None) -> str:
    """Return a line as it stands on the paper."""
    if line is None:
        return f"{prompt_of(step)} ······"
    return written_line(step, line)


def row_starts(text: str, width: int, hanging: int = 0) -> list[int]:
    """Return where rows begin after the first, so that each fits; no number is cut that fits.

    Args:
        text: what is to be parted.
        width: the columns of a row.
        hanging: those by which all rows but the first will be set in.
    """
    width = max(width, hanging + 1)
    if cell_len(text) <= width:
        return []
    starts: list[int] = []
    begin, room = 0, width
    for word in _WORD.finditer(text):
        end = word.start() + len(word[0].rstrip(" \n"))
        if cell_len(text[begin:end]) > room and word.start() > begin:
            begin, room = word.start(), width - hanging
            starts.append(begin)
        while cell_len(text[begin:end]) > room:
            begin, room = begin + _fitting(text[begin:end], room), width - hanging
            starts.append(begin)
    return starts


def _fitting(word: str, room: int) -> int:
    """Return how many letters of a word that is too long stand on a row: at least one."""
    most = 1
    while cell_len(word[: most + 1]) <= room:
        most += 1
    places = [sign.start() for sign in _BEFORE.finditer(word, 0, most + 1)]
    return places[-1] if places else most


def wrapped_lines(text: str, width: int) -> list[str]:
    """Return a text in parts that fit, no number separated from its unit; none for no text."""
    text = text.replace("\n", " ").rstrip()
    cuts = [0, *row_starts(text, width, HANGING), len(text)]
    rows = [text[begin:end].rstrip() for begin, end in pairwise(cuts)]
    return [f"{'' if place == 0 else ' ' * HANGING}{row}" for place, row in enumerate(rows) if text]


def indented(mark: str, text: str) -> Iterator[Content]:
    """Yield a text behind a margin, its mark before the first line of it."""
    for number, part in enumerate(wrapped_lines(text, TEXT_WIDTH)):
        yield Content(f"{'' if number else mark:>{MARGIN}}  {part}")
