"""The problems in plain lines: which there are at each joint, and each opened by its number."""

from __future__ import annotations

from collections import Counter

from leverstep.bench.kept_workings import Unfinished, unfinished
from leverstep.bench.record import RecordError
from leverstep.course.cards import Card
from leverstep.course.faults import FileError
from leverstep.course.listing import joint_name
from leverstep.course.phrases import counted
from leverstep.course.plain_text import near, plain
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.lines.verbs import Conversation, Place
from leverstep.faces.material import Material
from leverstep.faces.openings import LED, Opening, hints_left_out, open_practice
from leverstep.faces.terminal import Listen, Say
from leverstep.slips.habits import Habits
from leverstep.working.guidance import Guidance
from leverstep.working.wording import CAUTION_SAID

_ELSEWHERE = (
    "A drill: leverstep drill sit, and its file, with --plain.",
    "What you have practised: leverstep progress --plain.",
)
"""What is done by commands of their own, told in help."""


class HomeLines(Conversation):
    """Asks for a problem until the input ends, or `stop`, and works each that is chosen.

    Problems are numbered within what was read out last.
    """

    place = Place.HOME
    prompt = "Problem: "

    def __init__(self, material: Material, say: Say, listen: Listen) -> None:
        super().__init__(say, listen)
        self.shelf = material.shelf
        self._material = material
        self._habits = Habits()
        self.guidance = Guidance.LINES
        self._heard: tuple[Card, ...] = ()
        self._joints = Counter(card.joint for card in self.shelf.cards)

    def run(self) -> None:
        """Read out the joints, then ask."""
        self.say("leverstep: joint statics, line by line.")
        self.say(CAUTION_SAID)
        self.do_joints("")
        if begun := self._unfinished:
            self.say(f"Not finished: {_far(begun)}. Type go on to take it up.")
        self.converse()

    @property
    def _unfinished(self) -> Unfinished | None:
        """Return the last working that is not finished, None where there is none."""
        return next(iter(unfinished(self.shelf)), None)

    def do_joints(self, _: str) -> None:
        """Say which joints there are."""
        there_are = ", ".join(f"{joint} {count}" for joint, count in self._joints.items())
        self.say(f"{counted(len(self.shelf.cards), 'problem')}, by joint: {there_are}.")
        self.say("Type a joint to hear its problems.")

    def do_all(self, _: str) -> None:
        """Read out all problems."""
        self._read(self.shelf.cards)

    def do_guidance(self, named: str) -> None:
        """Set how far the student is led in what is opened next, or say how far that is."""
        degrees = [str(degree) for degree in Guidance]
        if named and named.lower() not in degrees:
            self.say(f"Guidance is one of {', '.join(degrees)}.")
            return
        self.guidance = Guidance(named.lower()) if named else self.guidance
        self.say(f"Guidance: {self.guidance}, {LED[self.guidance]}.")

    def do_go_on(self, _: str) -> None:
        """Go on with the last working that is not finished."""
        begun = self._unfinished
        if begun is None:
            self.say("Nothing is unfinished. Choose a problem.")
            return
        self._work(Opening(begun.problem, path=begun.path))

    def do_choose(self, text: str) -> None:
        """Read out the problems of a joint, or open the problem that is named."""
        if text.lower() in self._joints:
            self._read(tuple(card for card in self.shelf.cards if card.joint == text.lower()))
            return
        ident = text
        if text.isdecimal():
            number = int(text)
            if not 1 <= number <= len(self._heard):
                self.say("No problem has this number. Type a joint to hear its problems.")
                return
            ident = self._heard[number - 1].id
        if ident in self.shelf.problems:
            self._work(Opening(self.shelf.problems[ident], guidance=self.guidance))
            return
        known = near(text, [*self._joints, *self.shelf.problems])
        self.say(
            f"There is no such joint or problem{plain(known)}. Type help for what you can type."
        )

    def do_help(self, _: str) -> None:
        """Say what can be typed, and what other commands do."""
        super().do_help("")
        for told in _ELSEWHERE:
            self.say(told)

    def _read(self, cards: tuple[Card, ...]) -> None:
        """Say some problems, each with the number that opens it."""
        self._heard = cards
        joint = ""
        for number, card in enumerate(cards, 1):
            if card.joint != joint:
                joint = card.joint
                self.say(f"{joint_name(joint)}:")
            own = ", your own" if card.id in self.shelf.own else ""
            self.say(f"{number}: {card.title}, level {card.difficulty}, {card.units}{own}.")
        self.say("Type the number of a problem to open it.")

    def _work(self, opening: Opening) -> None:
        """Work a practice to where it is left, or say why it can't be opened."""
        try:
            practice = open_practice(opening, self._material, self._habits)
        except (RecordError, FileError) as error:
            self.say(str(error))
            return
        if left_out := hints_left_out(self._material):
            self.say(left_out)
        PracticeLine(PracticeDialogue(practice), self.say, self.listen).run()


def _far(begun: Unfinished) -> str:
    """Return which working is not finished, and how far it came."""
    far = counted(begun.entries, "entry", "entries")
    return f"{begun.problem.title}, numbers {begun.seed}, {far}"
