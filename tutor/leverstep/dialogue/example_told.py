"""What is told of a worked example: how much of it is shown, each reason, and what was known."""

from __future__ import annotations

from leverstep.bench.bench import Bench
from leverstep.course.phrases import counted
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.working.guidance import Guidance
from leverstep.working.page import line_name

GOES_ON = "Enter goes on."
"""What is said where a line is to be read, and something else is typed."""


def example_told(bench: Bench) -> str:
    """Return how much is shown where the first lines are an example; "" where none are to be."""
    lines = len(bench.working.steps)
    if bench.fading is None:
        is_open = bench.working.guidance is Guidance.FADING
        known = "You did problems of this kind without a slip: every line is yours now."
        return known if is_open else ""
    shown = len(bench.fading.lines)
    if bench.fading.is_whole:
        return "The whole working is shown, line by line, each with its reason: you only read."
    first = "The first line is" if shown == 1 else f"The first {shown} lines are"
    last = "the last one is" if lines - shown == 1 else f"the last {lines - shown} are"
    return f"{first} shown, each with its reason; {last} yours."


def reason_told(bench: Bench, question: ChoiceQuestion, chosen: str) -> str:
    """Return what is told of an answer at a line that is shown, and behind the last what is next.

    Who passes a question over is told the reason all the same.
    """
    told = question.told_of(chosen)
    if not (chosen or question.is_read):
        told = f"The reason: {question.truth}"
    step = bench.working.current()
    if bench.is_reading or step is None:
        is_last = bench.is_read_whole
        return f"{told} That was the last line.".lstrip() if is_last else told
    return f"{told} From here on the lines are yours, beginning with {line_name(step)}.".lstrip()


def shown_told(bench: Bench, key: str) -> str:
    """Return that a line is shown, and why it is so unless that is asked; "" for any other line."""
    if bench.fading is None or not bench.shows(key):
        return ""
    question = bench.fading.questions.get(key)
    if question is None:
        return "Shown to you."
    is_asked = bench.is_reading and not question.is_read and question.key not in bench.answers
    return "Shown to you." if is_asked else f"Shown to you. {question.truth}"


def example_headline(bench: Bench) -> str:
    """Return how it went where the whole working was shown; "" elsewhere."""
    if bench.fading is None or not bench.fading.is_whole:
        return ""
    if not bench.is_read_whole:
        return "The whole working was shown to you, and is not read to its end."
    told = "You have read the whole working."
    is_marked = bench.working.rules.marked
    return told if is_marked else f"{told} The next of its kind leaves the last lines to you."


def example_account(bench: Bench) -> str:
    """Return how many lines were shown, and of how many the reason was known; "" for none."""
    if bench.fading is None:
        return ""
    told = f"{counted(len(bench.fading.lines), 'line was', 'lines were')} shown to you."
    if answered := bench.reasoned:
        right = sum(answer in question.right for question, answer in answered)
        asked = counted(len(answered), "reason that was", "reasons that were")
        told += f" You knew {right} of {asked} asked for."
    return told
