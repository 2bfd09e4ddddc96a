"""Exploring line by line, for screen readers: a given is changed by typing it, and all is told."""

from __future__ import annotations

from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe
from leverstep.explore.answers import ANSWERS
from leverstep.explore.exploration import Exploration
from leverstep.explore.predictions import Prediction
from leverstep.explore.results import direction_of
from leverstep.explore.sentences import change
from leverstep.explore.table import stated, told
from leverstep.faces.lines.verbs import Conversation, Place
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.working.cautions import CAUTION_IN_SHORT, CAUTION_SAID
from leverstep.working.own import OwnError


class ExploreLines(Conversation):
    """Exploring in words: a given is changed by typing it, and every result follows."""

    place = Place.EXPLORING
    prompt = "Explore: "

    def __init__(self, exploration: Exploration, say: Say, listen: Listen) -> None:
        """Begin. What is said is put for the ear: symbols are spelt."""
        super().__init__(lambda text: say(read_out(text.replace("→", "to"))), listen)
        self.exploration = exploration

    def run(self, sweeps: bool = False) -> None:
        """Explore until the input ends, or `stop`.

        `sweeps` has it told first what follows over the given on the axis.
        """
        for line in stated(self.exploration.own):
            self.say(line)
        self.say(CAUTION_SAID)
        self.do_results("")
        if sweeps:
            self._tell_sweep()
        self.converse()

    def do_results(self, _: str) -> None:
        """Tell every result, and how it differs from that with the problem's own numbers."""
        exploration, say = self.exploration, self.say
        values, own = exploration.values, exploration.own_values
        if values is None:
            say(exploration.trouble)
            return
        moved = [one for one in exploration.movables if exploration.is_moved(one)]
        for one in moved:
            now, before = one.written(exploration.now), one.written(exploration.own)
            say(f"{one.sign} {now}, in place of {before}.")
        for result in exploration.results:
            differs = ""
            if moved and own is not None:
                how = change(own[result.key], values[result.key])
                differs = f": {how}, from {result.written(own[result.key])}"
            told = [result.sign, result.name, result.written(values[result.key])]
            if result.role == "reaction":
                told.append(direction_of(exploration.now, result, values))
            say(f"{', '.join(filter(None, told))}{differs}.")

    def do_over(self, given: str) -> None:
        """Tell what follows from each value of a given."""
        trouble = self.exploration.hold(given.strip()) if given.strip() else ""
        if trouble:
            self.say(f"Not done: {trouble}.")
        else:
            self._tell_sweep()

    def do_ask(self, _: str) -> None:
        """Ask the next question, take an answer by its number, and tell what is true."""
        asked = self.exploration.next_prediction()
        if asked is None:
            self.say("No question has a clear answer with these numbers.")
            return
        self._put(asked)
        while True:
            typed = self.listen(f"Answer, 1 to {len(ANSWERS)}: ").strip().lower()
            if not typed or typed in STOP:
                self.say("You have left the question.")
                return
            if typed in map(str, range(1, len(ANSWERS) + 1)):
                self._tell_answer(asked, int(typed))
                return
            if typed == "ask":
                self._put(asked)
            else:
                last = len(ANSWERS)
                ways = "ask says the question again, Enter leaves it."
                self.say(f"Type a number from 1 to {last}; {ways}")

    def do_own(self, _: str) -> None:
        """Set all givens back."""
        self.exploration.set_all_back()
        self.say("All givens have the problem's own values again.")
        self.do_results("")

    def do_givens(self, _: str) -> None:
        """Tell every given, and how far it may be changed."""
        for one in self.exploration.movables:
            now = self.exploration.now
            low, high = (one.at(now, end) for end in (one.span.low, one.span.high))
            self.say(f"{one.sign}, {one.name}: {one.written(now)}, from {low} to {high}.")

    def do_problem(self, _: str) -> None:
        """Tell the statement again, and the picture as it is now."""
        now = describe(self.exploration.now)
        for line in (*stated(self.exploration.own), *now, CAUTION_IN_SHORT):
            self.say(line)

    def do_change(self, text: str) -> None:
        """Change a given."""
        try:
            self.exploration.change(text)
        except OwnError as error:
            self.say(f"Not changed: {error}. Type help for what you can type.")
        else:
            self.do_results("")

    def _tell_sweep(self) -> None:
        """Tell what follows over the given on the axis."""
        for line in told(self.exploration.now, self.exploration.sweep):
            self.say(line)

    def _put(self, asked: Prediction) -> None:
        """Say a question and its answers."""
        self.say(asked.asks)
        for number, answer in enumerate(ANSWERS, 1):
            self.say(f"{number}: it {answer}.")

    def _tell_answer(self, asked: Prediction, number: int) -> None:
        self.exploration.show(asked)
        self.say(asked.told(ANSWERS[number - 1]))
        self.say(f"{asked.movable.sign} now has the value that was asked about; own sets it back.")
