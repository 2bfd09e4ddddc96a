"""The clock of a sitting in line mode: kept on the disk, and told of while a line is typed."""

from __future__ import annotations

from leverstep.course.plain_text import plain
from leverstep.dialogue.replies import Unkept
from leverstep.dialogue.sitting_dialogue import AGAIN, TIME_UP, SittingDialogue
from leverstep.faces.lines.speaking_beside import Interrupt, SpeakingBeside

LOOK = 1.0
"""Seconds between two looks at the clock."""


class Clock(SpeakingBeside):
    """Keeps the clock of a sitting that is worked within its `with`, and hands in at its end."""

    def __init__(self, dialogue: SittingDialogue, interrupt: Interrupt | None) -> None:
        """Make a clock.

        Args:
            dialogue: that of the sitting whose clock it is.
            interrupt: what it speaks with; None to keep silent, for scripts.
        """
        super().__init__(interrupt)
        self._dialogue = dialogue
        self._sitting = dialogue.sitting
        self._refused = False

    def run(self) -> None:
        """Look at the clock each second, keep it, and speak when it is time."""
        while not self._ended.wait(AGAIN if self._sitting.over else LOOK):
            if self._sitting.is_due:
                self._sitting.note()
            if self._interrupt is not None:
                with self._speaking:
                    self._speak(self._interrupt)

    def _speak(self, interrupt: Interrupt) -> None:
        if self._ended.is_set() or self._sitting.ended:
            return
        if self._sitting.over:
            self._hand_in(interrupt)
        elif told := self._dialogue.warning_due():
            interrupt(f"\n{told}\n{self._prompt}")

    def _hand_in(self, interrupt: Interrupt) -> None:
        """Hand in; where that can't be written, say so once, and leave it for the next time."""
        reply = self._dialogue.hand_in()
        if not isinstance(reply, Unkept):
            interrupt(f"\n{TIME_UP} Press Enter for the result.\n")
        elif not self._refused:
            self._refused = True
            told = f"{reply.heading}: {plain(reply.told)}"
            interrupt(f"\n{told} Trying again.\n{self._prompt}")
