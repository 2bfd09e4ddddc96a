"""The end of a practice in plain lines: what to remember of it, and where to go on from there."""

from __future__ import annotations

from datetime import datetime

from leverstep.bench.practice import Practice
from leverstep.bench.record import RecordError
from leverstep.course.cards import card_of
from leverstep.course.faults import FileError
from leverstep.course.plain_text import plain
from leverstep.course.symbols import read_out
from leverstep.dialogue.lookback import LinePair, look_back
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.lines.verbs import Conversation, Place, Verb
from leverstep.faces.material import Material
from leverstep.faces.openings import Opening, open_practice
from leverstep.faces.terminal import Listen, Say
from leverstep.progress.onward import WayOn, WaysOn, read_ways_on
from leverstep.sheets.own_page import keep_page
from leverstep.slips.habits import Habits
from leverstep.working.cautions import CAUTION_IN_SHORT
from leverstep.working.own import OwnError

_NO_OTHER = "There is no other problem here."
_NO_SLIP = "No slip was made for sure that another problem could show."


def work_on(
    practice: Practice, material: Material, habits: Habits, say: Say, listen: Listen
) -> None:
    """Work a practice, and each that is gone on with from the end of the one before."""
    following: Practice | None = practice
    while following is not None:
        dialogue = PracticeDialogue(following)
        PracticeLine(dialogue, say, listen).run()
        if dialogue.at_hand is not None:  # left before its end
            return
        end = EndLines(following, material, habits, say, listen)
        end.run()
        following = end.following


class EndLines(Conversation):
    """Tells what to remember, then asks where to go on. `following` is what was chosen, if any."""

    place = Place.END
    prompt = "Next: "

    def __init__(
        self, practice: Practice, material: Material, habits: Habits, say: Say, listen: Listen
    ) -> None:
        super().__init__(lambda text: say(read_out(plain(text))), listen)
        self.following: Practice | None = None
        self._practice = practice
        self._material = material
        self._habits = habits
        self._back = look_back(practice)

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what can be typed: no word for a slip where none was made."""
        hidden = () if self._back.slips else ("slip",)
        return tuple(verb for verb in self.verbs if verb.does not in hidden)

    def run(self) -> None:
        """Say what to remember and what the result means; ask until something is chosen."""
        self.do_summary("")
        self.do_remind("")
        self.converse()

    def do_summary(self, _: str) -> None:
        """Say how sure the student was, what was expected, what to remember, what it means."""
        back = self._back
        for told in (*back.sure, *back.expected, *back.remembered, *back.meant):
            self.say(told)

    def do_remind(self, _: str) -> None:
        """Say which words there are."""
        words = ", ".join(verb.name for verb in self.offered if verb.short)
        self.say(f"To go on, type one of these: {words}.")

    def do_lines(self, _: str) -> None:
        """Say each line as it was written, what came of it, and the worked one."""
        for line in self._back.in_turn:
            self.say(_read(line))
        self.say(CAUTION_IN_SHORT)

    def do_page(self, typed: str) -> None:
        """Write the working to a file, and say where it is or why not."""
        self.say(keep_page(self._practice, typed).told)

    def do_again(self, _: str) -> None:
        """Open the same problem with other numbers, led as before; or with another slip to find."""
        self._open_again(self._practice.slips_to_find)

    def do_mend(self, _: str) -> None:
        """Open the same problem with other numbers, as somebody else worked it, with a slip."""
        self._open_again(1)

    def do_mend_two(self, _: str) -> None:
        """Open the same problem with other numbers, as somebody else worked it, with two slips."""
        self._open_again(2)

    def _open_again(self, slips: int) -> None:
        problem, guidance = self._practice.question.problem, self._practice.working.guidance
        self._open(Opening(problem, guidance=guidance, slips_to_find=slips))

    def do_next(self, _: str) -> None:
        """Open another kind of problem."""
        self._go(self._ways().another, _NO_OTHER)

    def do_slip(self, _: str) -> None:
        """Open a problem for the slip that was made."""
        self._go(self._ways().for_slip if self._back.slips else None, _NO_SLIP)

    def do_stop(self, _: str) -> None:
        """Leave; everything is kept."""
        self.is_left = True

    def _ways(self) -> WaysOn:
        slips = [slip for one in self._back.slips for slip in one.slips]
        material, done = self._material, card_of(self._practice.question.problem)
        now = datetime.now().astimezone()
        return read_ways_on(done, slips, (material.shelf, material.catalogue), now)

    def _go(self, way: WayOn | None, without: str) -> None:
        """Open the problem that a way leads to, and say which it is; or say that there is none."""
        if way is None:
            self.say(without)
            return
        self.say(f"{way.told}.")
        problem = self._material.shelf.problems[way.card.id]
        self._open(Opening(problem, guidance=self._practice.working.guidance))

    def _open(self, opening: Opening) -> None:
        try:
            self.following = open_practice(opening, self._material, self._habits)
        except (RecordError, FileError, OwnError) as error:
            self.say(str(error))
        else:
            self.is_left = True


def _read(line: LinePair) -> str:
    """Return a line for the ear: what was written, what came of it, and how it is worked out."""
    held = "; you were sure of an entry here that was not right" if line.is_held else ""
    own = f"{line.own or line.name}: {line.standing}{held}"
    if not line.worked:
        return f"{own}."
    if line.is_as_worked:
        return f"{own}, as it is worked out."
    return f"{own}. Worked out: {line.worked}."
