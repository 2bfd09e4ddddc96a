"""What is asked for at a working: one line, or any where the student is free to write one."""

from __future__ import annotations

from leverstep.dialogue.replies import Asked
from leverstep.dialogue.sure_said import SURE_BEHIND, says_how_sure
from leverstep.entry.reading import after_symbol
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.page import line_example, line_name, prompt_of, to_find
from leverstep.working.wording import ask, example
from leverstep.working.working import Working


def line_asked(working: Working, step: Step) -> Asked:
    """Return what is asked for where it is this line."""
    number, line = working.steps.index(step) + 1, working.lines.get(step.key)
    place = f"Line {number} of {len(working.steps)}"
    standing = "" if line is None else after_symbol(line.text, step)
    return Asked(
        step.key, line_name(step) if working.guidance.free else place,
        f"{ask(working.question, step)}.", prompt_of(step), example(step), standing=standing,
    )  # fmt: skip


def any_line_asked(working: Working, step: Step) -> Asked:
    """Return what is asked for where any line may be written, and this one is the first missing."""
    if working.guidance is Guidance.LANDMARKS:
        later = [s for s in working.to_find if s is not step and s.kind.is_number]
        shown = " or ".join([example(step), *map(line_example, later[:1])])
        aside = "Any other line may be written with its symbol."
        asks = f"{ask(working.question, step)}."
        return Asked("", line_name(step), asks, "line:", shown, aside)
    shown = line_example(step)
    sure = f" {SURE_BEHIND}" if says_how_sure(working) else ""
    aside = f"Write a line, such as {shown}{sure}."
    return Asked("", "", f"Still to find: {to_find(working)}.", "line:", shown, aside)
