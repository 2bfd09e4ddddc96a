"""A line of a working as it stands on the paper, and how it is wrapped there."""

from __future__ import annotations

import re
from textwrap import wrap

from leverstep.statics.step import Step
from leverstep.working.page import prompt_of, written_line
from leverstep.working.standing_lines import Line
from leverstep.working.wording import PARTS


def section_of(step: Step) -> str:
    """Return the heading that a step stands under."""
    return PARTS[step.kind.part]


def line_text(step: Step, line: Line | None) -> str:
    """Return a line as it stands on the paper."""
    if line is None:
        return f"{prompt_of(step)} ······"
    return written_line(step, line)


def wrapped_lines(text: str, width: int) -> list[str]:
    """Return a text in parts that fit, no number parted from its unit; none for no text."""
    kept = re.sub(r"(?<=\d) (?=[A-Za-z°])", "\u00a0", text)
    return wrap(kept, width, subsequent_indent="  ", break_on_hyphens=False)
