"""Several lines pasted where one is asked for: entered in their order, as if each were typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from leverstep.course.phrases import counted
from leverstep.dialogue.free_page import refusal
from leverstep.dialogue.replies import DialogueAnswer, Mark, Reply, Unkept
from leverstep.dialogue.working_dialogue import Answering, WorkingDialogue

_GOES_ON = (Mark.KEPT, Mark.SAME)


def lines_of(text: str) -> tuple[str, ...]:
    """Return the lines of a pasted text, those that are blank left out."""
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def enter_lines(
    answering: Answering, dialogue: WorkingDialogue, lines: Sequence[str], came: str = "pasted"
) -> Reply:
    """Enter lines in their order, up to the first that is not right or not read.

    The others after it are left, so that a slip costs one try and no more: they may rest on it.
    Nor is any entered after the last line that is asked for, or after one that waits for the disk.

    Args:
        answering: what answers the student.
        dialogue: the dialogue of the working at hand.
        lines: what was pasted.
        came: how they came, as it is told.

    Returns:
        What came of the last line that was entered, with how many were.
    """
    if refused := refusal(lines, len(lines)):
        return dialogue.say(refused)
    reply: Reply = DialogueAnswer()
    entered = 0
    for line in lines:
        reply = answering.enter(line)
        if isinstance(reply, Unkept):
            break
        entered += not reply.is_late
        if not _goes_on(reply) or dialogue.at_hand is None:
            break
    told = _told(entered, len(lines) - entered, came)
    is_whole = not reply.told or reply.told.endswith((".", "!", "?"))
    before = reply.told if is_whole else f"{reply.told}."
    if isinstance(reply, Unkept):
        return replace(reply, told=f"{before} {told}")
    dialogue.latest = replace(reply, told=f"{before} {told}")
    return dialogue.latest


def _goes_on(answer: DialogueAnswer) -> bool:
    """Return whether the next line is entered after this one."""
    verdict = answer.verdict
    is_said = verdict is not None and (verdict.is_remark or verdict.in_symbols)
    return answer.moves_on or answer.is_elsewhere or answer.mark in _GOES_ON or is_said


def _told(entered: int, left: int, came: str) -> str:
    """Return how many lines were entered, and how many were not."""
    told = f"{counted(entered, 'line')} of {entered + left} {came} {_is(entered)} entered."
    return f"{told} The other {left} {_is(left)} not taken." if left else told


def _is(number: int) -> str:
    return "is" if number == 1 else "are"
