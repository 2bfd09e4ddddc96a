"""A line of a working as it stands on the paper, and how it is wrapped there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from textwrap import wrap

from textual.content import Content

from leverstep.statics.step import Step
from leverstep.working.page import prompt_of, written_line
from leverstep.working.standing_lines import Line
from leverstep.working.wording import PARTS

MARGIN, TEXT_WIDTH = 11, 62
"""Columns of the margin of a list of lines, and of what stands behind it."""

_SIGN = re.compile(r"(?<=\S)(?:[*/+=×÷·()]|(?<![eE])[-−])(?=\S)")


def section_of(step: Step) -> str:
    """Return the heading that a step stands under."""
    return PARTS[step.kind.part]


def line_text(step: Step, line: Line | None) -> str:
    """Return a line as it stands on the paper."""
    if line is None:
        return f"{prompt_of(step)} ······"
    return written_line(step, line)


def wrapped_lines(text: str, width: int) -> list[str]:
    """Return a text in parts that fit, no number cut or parted from its unit; none for no text."""
    kept = re.sub(r"(?<=\d) (?=[A-Za-z°])", "\u00a0", text)
    parts = wrap(
        kept, width, subsequent_indent="  ", break_on_hyphens=False, break_long_words=False
    )
    return [one for part in parts for one in _cut(part, width)]


def _cut(part: str, width: int) -> Iterator[str]:
    """Yield a part that may be too long, cut behind a sign between numbers where there is one."""
    while len(part) > width:
        ends = [match.end() for match in _SIGN.finditer(part, 0, width)]
        place = ends[-1] if ends else width
        yield part[:place]
        part = f"  {part[place:]}"
    yield part


def indented(mark: str, text: str) -> Iterator[Content]:
    """Yield a text behind a margin, its mark before the first line of it."""
    for number, part in enumerate(wrapped_lines(text, TEXT_WIDTH)):
        yield Content(f"{'' if number else mark:>{MARGIN}}  {part}")
