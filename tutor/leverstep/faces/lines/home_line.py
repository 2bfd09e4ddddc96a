"""The problems in plain lines: where to start or go on, what is due, and each by its number."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from leverstep.bench.kept_workings import Unfinished, kept_workings
from leverstep.bench.record import RecordError
from leverstep.bench.record_note import RecordNote
from leverstep.course.faults import FileError
from leverstep.course.numbers import LONGEST_SEED, is_seed
from leverstep.course.plain_text import near, plain
from leverstep.dialogue.kept_told import kept_told
from leverstep.faces.lines.kept_asking import which_working
from leverstep.faces.lines.looking_up import LookingUp
from leverstep.faces.lines.tour_line import TourLines
from leverstep.faces.lines.verbs import Conversation, Place, Verb, cut_short
from leverstep.faces.lines.where_to_begin import problems_there_are, where_to_begin
from leverstep.faces.material import Material
from leverstep.faces.openings import LED, Opening, hints_left_out, open_practice, set_at_hand
from leverstep.faces.terminal import Listen, Say
from leverstep.glossary.glossary import Glossary
from leverstep.progress.mixed_set import FEWEST, MOST
from leverstep.progress.problem_list import ListedProblem, ListSection, ProblemList
from leverstep.progress.problem_told import about
from leverstep.progress.suggested import suggested_now
from leverstep.slips.habits import Habits
from leverstep.working.cautions import CAUTION_SAID
from leverstep.working.guidance import Guidance
from leverstep.working.own import OwnError

_ELSEWHERE = (
    "A drill: leverstep drill sit, and its file, with --plain.",
    "What you have practised, as text: leverstep progress --plain.",
)
"""What is done by commands of their own, told in help."""

_NO_NUMBER = "No problem has this number. Type a joint to hear its problems."
_NONE_KEPT = "Nothing is unfinished. Choose a problem."
_LONGEST_NUMBER = 9
_READING = "One moment: your practice is being read."


class HomeLines(LookingUp, Conversation):
    """Asks for a problem until the input ends, or `stop`, and works each that is chosen.

    Problems are numbered within what was read out last, and so are workings that are kept.
    """

    place = Place.HOME
    prompt = "Problem: "

    def __init__(self, material: Material, say: Say, listen: Listen) -> None:
        super().__init__(say, listen)
        self.shelf = material.shelf
        self.problems = ProblemList(self.shelf)
        self._material = material
        self._habits = Habits()
        self.guidance = Guidance.LINES
        self._seed = ""
        self._own: tuple[str, ...] = ()
        self._heard: tuple[str, ...] = ()
        self._kept: tuple[Unfinished, ...] = ()
        self._joints = tuple(dict.fromkeys(card.joint for card in self.shelf.offered))

    def run(self, with_tour: bool = False) -> None:
        """Read out the joints or weeks, and where to start or go on; then ask.

        With the tour before that, and the problem it leads to.
        """
        self.say("leverstep: joint statics, line by line.")
        self.say(CAUTION_SAID)
        if with_tour:
            self.do_tour("")
            self.say("")
        self.do_joints("")
        self._read_records()
        for told in where_to_begin(self.problems, _now()):
            self.say(told)
        self.converse()

    @property
    def glossary(self) -> Glossary:
        """Return the terms there are."""
        return Glossary(self._material.catalogue.terms)

    def _read_records(self) -> None:
        """Read what is kept of earlier workings, and what to practise next by them."""
        self.problems.kept = kept_workings(self.shelf)
        if self.problems.kept.is_empty:
            return
        is_told = False

        def told(read: int, of_all: int) -> None:
            nonlocal is_told
            del read, of_all
            if not is_told:
                self.say(_READING)
            is_told = True

        self.problems.suggested = suggested_now(self.shelf, self._material.catalogue, told)

    def do_joints(self, _: str) -> None:
        """Say which weeks and joints there are."""
        for told in problems_there_are(self.shelf):
            self.say(told)

    def do_week(self, number: str) -> None:
        """Read out the problems of a week."""
        weeks = self.shelf.weeks
        if not 1 <= _whole(number) <= len(weeks):
            self.say(f"There is no week {number}.")
            return
        self._read(self.problems.week(weeks[_whole(number) - 1]))

    def do_all(self, _: str) -> None:
        """Read out all problems."""
        self._read(self.problems.sections())

    def do_find(self, words: str) -> None:
        """Read out the problems whose title or joint has some words in it."""
        if not self._found(words):
            self.say("No problem has that in its title or joint.")

    def do_start(self, _: str) -> None:
        """Open the problem to start with, or the first of what to practise next."""
        card = self.problems.start
        if card is None:
            self.do_due("")
        else:
            self._open(card.id)

    def do_due(self, _: str) -> None:
        """Read out what is due for review, or what comes next."""
        found = self.problems.due or tuple(filter(None, [self.problems.next]))
        cards = [(self.problems.card(one.ident), one) for one in found]
        self._heard = tuple(card.id for card, _ in cards if card is not None)
        for number, (card, one) in enumerate(cards, 1):
            if card is not None:
                level = self.problems.listed(card).level
                self.say(f"{number}: {card.title}, {level}, {one.why}.")
        self.say("Type the number of a problem to open it." if self._heard else "Nothing is due.")

    def do_about(self, number: str) -> None:
        """Say what there is to know of a problem before it is opened."""
        ident = self._numbered(number)
        card = None if ident is None else self.problems.card(ident)
        for told in () if card is None else (card.title, *about(card, self.problems)):
            self.say(told)

    def do_mend(self, number: str) -> None:
        """Open a problem as somebody else worked it, with a slip to find and mend."""
        self._mend(number, 1)

    def do_mend_two(self, number: str) -> None:
        """Open a problem as somebody else worked it, with two slips to find and mend."""
        self._mend(number, 2)

    def _mend(self, number: str, slips: int) -> None:
        if (ident := self._numbered(number)) is not None:
            self._open(ident, slips)

    def do_guidance(self, named: str) -> None:
        """Set how far the student is led in what is opened next, or say how far that is."""
        degrees = [str(degree) for degree in Guidance]
        if named and named.lower() not in degrees:
            self.say(f"Guidance is one of {', '.join(degrees)}.")
            return
        self.guidance = Guidance(named.lower()) if named else self.guidance
        self.say(f"Guidance: {self.guidance}, {LED[self.guidance]}.")

    def do_numbers(self, seed: str) -> None:
        """Set what the numbers of the next problems are drawn from; new ones without a word."""
        if seed and not is_seed(seed):
            self.say(f"Type numbers and up to {LONGEST_SEED} letters or digits.")
            return
        self._seed = seed
        self.say(f"Numbers: {seed or 'new ones each time'}.")

    def do_own(self, typed: str) -> None:
        """Set the numbers of the own body, for the next problems that take them."""
        self._own = (typed,) if typed else ()
        self.say(
            f"Own body: {typed or 'none'}. This is checked when you open a problem that takes it."
        )

    def do_kept(self, which: str) -> None:
        """Read out the workings that can be gone on with, those off the list too with `all`."""
        self._kept = self.problems.unfinished(every_one=bool(which))
        for number, one in enumerate(self._kept, 1):
            off = ", off the list" if one.noted.hidden else ""
            self.say(f"{number}: {one.problem.title}, {kept_told(one, _now())}{off}.")
        if self._kept:
            self.say("Type go on and a number, or remove and a number.")
        else:
            self.say(_NONE_KEPT)
        if len(self.problems.unfinished(every_one=True)) > len(self._kept):
            self.say("More are kept, earlier ones or taken off the list: kept all names them too.")

    def do_go_on(self, number: str) -> None:
        """Go on with the last working that is not finished, or with one that was read out."""
        self._kept = self._kept if number else self.problems.unfinished()
        begun = self._kept_numbered(number or "1")
        if begun is not None:
            self._work(Opening(begun.problem, path=begun.path))

    def do_remove(self, number: str) -> None:
        """Take a working that was read out off the list; it stays kept."""
        begun = self._kept_numbered(number)
        if begun is not None:
            RecordNote(begun.path).hide(True)
            self.problems.kept = kept_workings(self.shelf)
            is_off = RecordNote(begun.path).noted.hidden
            off = "It is off the list, and stays kept: kept all names it, go on puts it back."
            self.say(off if is_off else "It stays on the list: the disk can't be written to.")

    def _kept_numbered(self, number: str) -> Unfinished | None:
        """Return a working by its number; None, and why, where there is none."""
        if 1 <= _whole(number) <= len(self._kept):
            return self._kept[_whole(number) - 1]
        self.say("No working has this number. Type kept." if self._kept else _NONE_KEPT)
        return None

    def do_mixed(self, which: str) -> None:
        """Go on with the mixed set that is kept, or with a new one of so many problems."""
        from leverstep.faces.lines.set_lines import work_set

        count = _whole(which) if which.isdecimal() else 0
        if which.isdecimal() and not FEWEST <= count <= MOST:
            self.say(f"A mixed set has {FEWEST} to {MOST} problems.")
            return
        try:
            opened = set_at_hand(
                self._material, count, self.guidance, anew=bool(which and not count)
            )
            work_set(opened, self._material, self._habits, self.say, self.listen)
        except FileError as error:
            self.say(str(error))
        self._read_records()

    def do_tour(self, _: str) -> None:
        """Take the tour, then work the problem that it leads to, if it was gone on with."""
        tour = TourLines(self._material, self.say, self.listen)
        tour.run()
        if tour.first is not None:
            self.say("")
            self._work(tour.first)

    def do_progress(self, which: str) -> None:
        """Say in three lines how practice goes, or tell all figures."""
        from leverstep.progress.progress import read_progress
        from leverstep.progress.told import in_short, spoken_report

        now, catalogue = datetime.now().astimezone(), self._material.catalogue
        progress = read_progress(self.shelf, catalogue, now)
        told = spoken_report(progress).splitlines() if which == "all" else in_short(progress)
        for line in filter(None, told):
            self.say(line)

    def do_choose(self, text: str) -> None:
        """Read out the problems of a joint, open the one that is named, or search for words."""
        if (verb := cut_short(text, self.verbs)) is not None:
            self.say(f"Say which, too: {verb.name}.")
        elif text.lower() in self._joints:
            self._read(self.problems.joint(text.lower()))
        elif text.isdecimal():
            if (ident := self._numbered(text)) is not None:
                self._open(ident)
        elif text in self.shelf.problems:
            self._open(text)
        elif not self._found(text):
            known = near(text, [*self._joints, *self.shelf.problems])
            self.say(f"There is no such joint or problem{plain(known)}, and no title contains it. "
                     "Type help for what you can type.")  # fmt: skip

    def _numbered(self, number: str) -> str | None:
        """Return the problem with a number that was read out; None, and why, for no such."""
        if 1 <= _whole(number) <= len(self._heard):
            return self._heard[_whole(number) - 1]
        self.say(_NO_NUMBER)
        return None

    def _found(self, words: str) -> bool:
        """Read out the problems that some words are found in; return whether there is one."""
        self.problems.search = words
        found = self.problems.sections()
        self.problems.show_all()
        if found:
            self._read(found)
        return bool(found)

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what help is to name: no weeks where the course has none."""
        hidden = () if self.shelf.weeks else ("week",)
        return tuple(verb for verb in self.verbs if verb.does not in hidden)

    def do_help(self, _: str) -> None:
        """Say what can be typed, and what other commands do."""
        super().do_help("")
        for told in _ELSEWHERE:
            self.say(told)

    def _read(self, sections: Iterable[ListSection]) -> None:
        """Say some problems, each with the number that opens it."""
        heard: list[str] = []
        for section in sections:
            self.say(f"{section.heading}:")
            for one in section.problems:
                heard.append(one.card.id)
                self.say(f"{len(heard)}: {_listed(one)}.")
        self._heard = tuple(heard)
        self.say("Type the number of a problem to open it.")

    def _open(self, ident: str, slips: int = 0) -> None:
        """Open a problem, with the numbers and the guidance that were set; or with slips in it."""
        try:
            problem = self.shelf.problems[ident]
        except FileError as error:
            self.say(str(error))
            return
        own = self._own if problem.own else ()
        opening = Opening(problem, self._seed, own=own, guidance=self.guidance, slips_to_find=slips)
        chosen = which_working(opening, self.shelf, self.say, self.listen)
        if chosen is not None:
            self._work(chosen)

    def _work(self, opening: Opening) -> None:
        """Work a practice to where it is left, or say why it can't be opened."""
        from leverstep.faces.lines.end_lines import work_on

        try:
            practice = open_practice(opening, self._material, self._habits)
        except (RecordError, FileError) as error:
            self.say(str(error))
            return
        except OwnError as error:
            self.say(f"{plain(str(error))}. Type own and other numbers, or own alone for none.")
            return
        if left_out := hints_left_out(self._material):
            self.say(left_out)
        work_on(practice, self._material, self._habits, self.say, self.listen)
        self._read_records()


def _whole(text: str) -> int:
    """Return a number that was typed; 0 for one that is longer than any there is."""
    return int(text) if len(text) < _LONGEST_NUMBER else 0


def _now() -> datetime:
    return datetime.now().astimezone()


def _listed(one: ListedProblem) -> str:
    """Return a problem as it is read out: its title, level, units, and how it stands."""
    card = one.card
    own = ["your own"] if one.is_own else []
    return ", ".join((card.title, one.level, card.units, *own, *one.marks))
