"""A mixed set in plain lines: its problems one after the other, and at the end how it went."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from leverstep.bench.practice import Practice
from leverstep.bench.record import RecordError
from leverstep.course.faults import FileError
from leverstep.course.plain_text import plain
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.end_lines import EndLines
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.lines.verbs import Place, Verb
from leverstep.faces.material import Material
from leverstep.faces.openings import Opening, SetOpened, next_in_set, open_practice
from leverstep.faces.terminal import Listen, Say
from leverstep.progress.mixed_set import MixedSet
from leverstep.slips.habits import Habits

_KEPT = "Your mixed set is kept. To come back to it: leverstep practise --mixed"
_ELSEWHERE = frozenset({"again", "slip"})
"""What leads out of a set, and is done from the problems instead."""


def work_set(
    opened: SetOpened, material: Material, habits: Habits, say: Say, listen: Listen
) -> None:
    """Work the problems of a set from one on, until it is left or at its end.

    Raises:
        FileError: where the file of a problem was broken since the set was drawn.
    """
    while opened.opening is not None and opened.opening.mixed is not None:
        mixed = opened.opening.mixed
        if not _worked(opened.opening, mixed, material, habits, say, listen):
            say(_KEPT)
            return
        opened = next_in_set(mixed, material)
    for told in opened.told:
        say(told)


def _worked(
    opening: Opening, mixed: MixedSet, material: Material, habits: Habits, say: Say, listen: Listen
) -> bool:
    """Work a problem of a set; return whether to go on to the next one."""
    try:
        practice = open_practice(opening, material, habits)
    except (RecordError, FileError) as error:
        say(f"{mixed.place_told} can't be opened. {error}")
        return True
    dialogue = PracticeDialogue(practice)
    line = SetPracticeLine(dialogue, say, listen, f"{mixed.place_told} of your mixed set.")
    line.run()
    if line.passes_on or dialogue.at_hand is not None:
        return line.passes_on
    end = SetEndLines(practice, material, habits, say, listen)
    end.run()
    return end.goes_on


class SetPracticeLine(PracticeLine):
    """Asks for each line of a problem of a set, of which `in_set` is the place in words.

    `passes_on` is whether the student went on from it to the next one.
    """

    place = Place.SET
    meanwhile = PracticeLine.meanwhile | {"next_problem"}

    def __init__(self, dialogue: PracticeDialogue, say: Say, listen: Listen, in_set: str) -> None:
        super().__init__(dialogue, say, listen)
        self.passes_on = False
        self._in_set = in_set

    def heading(self) -> Iterable[str]:
        """Return what stands above the statement: first which problem of the set it is."""
        return self._in_set, *super().heading()

    def do_next_problem(self, _: str) -> None:
        """Leave this problem for the next one of the set."""
        self.let_go()
        self.say(plain(self.dialogue.unsaved) or "What was typed is kept.")
        self.passes_on = self.is_left = True


class SetEndLines(EndLines):
    """The end of a problem of a set, from where the next one is gone on to."""

    def __init__(
        self, practice: Practice, material: Material, habits: Habits, say: Say, listen: Listen
    ) -> None:
        super().__init__(practice, material, habits, say, listen)
        self.goes_on = False

    @property
    def verbs(self) -> tuple[Verb, ...]:
        """Return what can be typed: nothing that leads elsewhere than on in the set."""
        return tuple(
            replace(verb, told="the next problem of your mixed set.")
            if verb.does == "next"
            else verb
            for verb in super().verbs
            if verb.does not in _ELSEWHERE
        )

    def do_next(self, _: str) -> None:
        """Go on to the next problem of the set."""
        self.goes_on = self.is_left = True
