"""The tour in plain lines: one line of a problem, entered step by step."""

from __future__ import annotations

from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe
from leverstep.dialogue.first_start import note_tour
from leverstep.dialogue.terms_told import terms_of_line
from leverstep.dialogue.tour import PROBLEM, Tour, TourReply, TourWords
from leverstep.faces.lines.looking_up import LookingUp
from leverstep.faces.lines.verbs import Conversation, Place
from leverstep.faces.material import Material
from leverstep.faces.openings import Opening
from leverstep.faces.terminal import Listen, Say
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import GlossaryTerm
from leverstep.working.cautions import CAUTION_IN_SHORT

_ONWARD = (
    "In a working the word earlier reads what you typed at a line before, term explains what the "
    "line is about, work out is a calculator, help tells all words.\n"
    "Enter opens a first problem: {title}. Type skip to choose one yourself."
)


class TourLines(LookingUp, Conversation):
    """Says what to do and takes it, step by step, until it is left or its end is reached.

    `first` is the problem to go on with; None until the end, or where it was left before.
    """

    place = Place.TOUR

    def __init__(self, material: Material, say: Say, listen: Listen) -> None:
        super().__init__(lambda text: say(read_out(text)), listen)
        self._material = material
        shelf = material.shelf
        card = shelf.first
        words = TourWords("type hint", _ONWARD.format(title=card.title) if card else "")
        self._begins_with = Opening(shelf.problems[card.id]) if card else None
        self._tour = Tour(shelf.problems[PROBLEM], material.catalogue, words)
        self.first: Opening | None = None
        self._told = ""

    @property
    def glossary(self) -> Glossary:
        """Return the terms there are."""
        return Glossary(self._material.catalogue.terms)

    @property
    def terms_at_hand(self) -> list[GlossaryTerm]:
        """Return the terms of the line that the tour is about."""
        return terms_of_line(self.glossary, self._tour.question, self._tour.step)

    def run(self) -> None:
        """Take the tour; that it was taken is kept, however it is left."""
        self.say("A tour of one line, in a few short steps. Type skip to leave it at once.")
        self.do_problem("")
        note_tour()
        self.converse()

    def lead_in(self) -> None:
        """Say what to do, where that is new, and ask for the line, or for Enter at the end."""
        self.prompt = "Enter: " if self._tour.is_at_end else f"{self._tour.prompt.rstrip(' =')}: "
        told = f"{self._tour.place}. {self._tour.told}"
        if told != self._told:
            self._told = told
            for line in told.split("\n"):
                self.say(line)

    def _answer(self, reply: TourReply) -> None:
        for line in reply.told:
            self.say(line)

    def do_enter(self, text: str) -> None:
        """Enter the line."""
        self._answer(self._tour.enter(text))

    def do_go_on(self, _: str) -> None:
        """Go on to the next step, or at the end to the first problem."""
        if self._tour.is_at_end:
            self.first, self.is_left = self._begins_with, True
        else:
            self._answer(self._tour.go_on())

    def do_enter_alone(self, rest: str) -> None:
        """Say once more what is to be done, and then go on; at the end, to the first problem."""
        if self._tour.is_at_end:
            self.do_go_on(rest)
        else:
            self._answer(self._tour.enter(rest))

    def do_hint(self, _: str) -> None:
        """Give the next hint of the line."""
        self._answer(self._tour.hint())

    def do_problem(self, _: str) -> None:
        """Read the problem, its picture and what the line asks for."""
        question = self._tour.question
        for line in (question.statement, *describe(question), CAUTION_IN_SHORT, self._tour.asks):
            self.say(line)

    def do_again(self, _: str) -> None:
        """Say this step again."""
        self._told = ""

    def do_skip(self, _: str) -> None:
        """Leave the tour."""
        self.is_left = True
