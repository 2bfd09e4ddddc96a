"""Where one question is worked: its working, its hints, and what is kept of it."""

from __future__ import annotations

import logging
from dataclasses import replace

from leverstep.bench.hints_given import HintsGiven
from leverstep.bench.mending import mending_again
from leverstep.bench.picture_work import PictureWork
from leverstep.bench.questions_beside import Keep, QuestionsBeside
from leverstep.bench.record_lines import (
    AnswerLine,
    Entered,
    EntryLine,
    FillLine,
    HintLine,
    LeaveLine,
    MendLine,
    PictureAskedLine,
    PlacedLine,
    RecordLine,
    UnitsAskedLine,
    UnitsNamedLine,
    WrittenLine,
)
from leverstep.bench.tries_told import tries_after
from leverstep.course.problem import Question
from leverstep.questions.sureness import SureEntry
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.explained import Explained, explained, made_for_sure
from leverstep.slips.habits import Habits
from leverstep.slips.hypotheses import reasons_at
from leverstep.slips.ladder import LineHint
from leverstep.slips.telling import tell
from leverstep.working.conversions import CleanConversions
from leverstep.working.guidance import Guidance
from leverstep.working.rules import (
    Conversions,
    Pictures,
    Reasons,
    Rules,
    Rung,
    Units,
)
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

TAKEN = "Saved. Results are shown at the end."
_log = logging.getLogger(__name__)


class Bench(QuestionsBeside):
    """A working with what is kept of it. What is typed is kept before it is judged.

    `catalogue` holds the slips that are looked for. `trouble` says why nothing can be kept, "" as
    long as all is well. `habits` may go on over several questions. `slips` holds those made for
    sure, each with the lines it was made on. `conversions` is how cleanly units are converted; it
    may go on over several questions too. `picture_work` has the free-body diagrams that the student
    draws; `sureness` each entry of which it was said. `slips_to_find` is how many slips are to be
    found and mended in the working of an invented student, 0 where it is the student's own; `shown`
    how many of the first lines are shown, each with its reason.
    """

    def __init__(
        self,
        question: Question,
        catalogue: Catalogue,
        keep: Keep,
        guidance: Guidance = Guidance.LINES,
        habits: Habits | None = None,
        rules: Rules | None = None,
        conversions: CleanConversions | None = None,
        slips_to_find: int = 0,
        shown: int = 0,
    ) -> None:
        super().__init__(Working(question, guidance, rules), catalogue, keep, slips_to_find, shown)
        self.habits = habits or Habits()
        self.conversions = conversions or CleanConversions()
        self.trouble = ""
        self.hints_given = HintsGiven(self.working, catalogue)
        self.slips: dict[Slip, list[str]] = {}
        self.sureness: list[SureEntry] = []
        tells = self.working.rules.tells
        self.picture_work = PictureWork(question, catalogue, keep, tells)
        if self.working.rules.pictures is Pictures.ASKED:
            self.picture_work.ask()
        self._habit: tuple[Verdict | None, str] = (None, "")
        self._latest = ""

    @property
    def to_fill(self) -> tuple[str, ...]:
        """Return the keys of the lines that are to be filled in now, by the rules."""
        rule, working = self.working.rules.conversions, self.working
        if rule is Conversions.ASKED or self.slips_to_find:
            return ()
        units, knows = self.question.problem.converted, self.conversions.knows
        is_all = rule is Conversions.GIVEN
        own = (key for key in working.to_fill if not self.shows(key))
        return tuple(key for key in own if is_all or knows(units[key]))

    @property
    def saved(self) -> bool:
        """Return whether everything so far is on the disk."""
        return not self.trouble

    def enter(self, key: str, text: str, sure: int | None = None) -> Verdict:
        """Keep an entry at the line that is asked for, then judge it.

        Where it says itself that it is another, the verdict names that. `sure` is how sure the
        student is, from 1 to 3; None where that is not said.
        """
        kind = WrittenLine if self.working.is_open(key, text) else EntryLine
        return self.judged(kind(step=key, text=text, sure=sure))

    def write(self, text: str, sure: int | None = None) -> Verdict:
        """Keep a line that says itself which one it is, then judge it as `enter` does."""
        return self.judged(WrittenLine(text=text, sure=sure))

    def leave(self, key: str) -> None:
        """Let a line stand for now, and go on with the next."""
        self._keep(LeaveLine(step=key))
        self.working.leave(key)

    def hint(self, key: str) -> LineHint | None:
        """Return the next hint of a line; None where all are shown, or none are given.

        What was given on the line before, for another entry, stands as shown.
        """
        hint = self.hints_given.following(key)
        may = self.working.rules.hints and not self.working.closed(key) and self.may_hint(key)
        if hint is None or not may:
            return None
        self._keep(HintLine(step=key))
        self.hints_given.give(key, hint)
        line, (verdict, habit) = self.working.lines.get(key), self._habit
        is_its = self._names_late and line is not None and line.verdict is verdict
        if habit and is_its and hint.rung is Rung.HAPPENED:
            return replace(hint, text=f"{hint.text} {habit}")
        return hint

    def may_hint(self, key: str) -> bool:
        """Return whether a hint on a line has a line to be charged to: practice needs none.

        A line that is shown needs no hint.
        """
        is_own = not self.shows(key)
        return is_own and (not self.working.rules.marked or self.working.serves(key))

    def hint_line(self) -> str:
        """Return the line that a hint is for where none is chosen, "" at the end.

        It is the one judged last while it is not right, else the first that is missing.
        """
        latest, working = self._latest, self.working
        is_open = bool(latest) and latest not in working.left and not working.done(latest)
        if is_open and self.may_hint(latest):
            return latest
        return next((step.key for step in working.missing()), "")

    @property
    def _names_late(self) -> bool:
        """Return whether a slip is named only when it is asked for."""
        return self.working.rules.reasons is Reasons.WHEN_ASKED

    def tell(self, verdict: Verdict) -> str:
        """Return what to say of a verdict, and of a habit where it shows one."""
        tells = (not verdict.counts or self.working.rules.tells) and not self._names_late
        habit = self._habit[1] if tells and verdict is self._habit[0] else ""
        parts = (self.outcome(verdict), tries_after(self.working, verdict), habit)
        return " ".join(part for part in parts if part)

    def outcome(self, verdict: Verdict) -> str:
        """Return what to say of a verdict alone."""
        is_own = verdict.counts and verdict.step not in self.working.filled
        if is_own and not self.working.rules.tells:
            return TAKEN
        try:
            return tell(self.working, verdict, self.catalogue)
        except Exception:  # noqa: BLE001  (the verdict stands, whatever becomes of the reason)
            _log.exception("No reason could be told in %s", self.question.problem.id)
            bare = replace(verdict, reason=None, attempt=None)
            return tell(self.working, bare, self.catalogue)

    def explained(self, verdict: Verdict) -> Explained:
        """Return what is found behind a wrong line."""
        return explained(verdict, self.catalogue)

    def could_show(self, key: str) -> frozenset[str]:
        """Return the reasons of the slips that could show at a line as it has just been written.

        In somebody else's working there are none: its slip was told before.
        """
        if self.mending is not None:
            return frozenset()
        written = frozenset(self.working.own_values(key))
        return reasons_at(self.question.derivation, self.catalogue, key, written)

    def entries_at(self, key: str) -> tuple[str, ...]:
        """Return what was typed at a line, or as that line elsewhere: each text once, latest first.

        With "" it is what was typed where any line might be written.
        """
        there = (
            text
            for asked, taken_as, text in reversed(self._typed)
            if key == asked or (key and key == taken_as)
        )
        return tuple(dict.fromkeys(there))

    def ask_pictures(self) -> None:
        """Have the student draw the free-body diagrams."""
        self.working.rules = replace(self.working.rules, pictures=Pictures.ASKED)
        self.picture_work.ask()

    def disclose(self) -> None:
        """Tell from now on what came of each line; nothing more is entered."""
        self.working.rules = Rules(attempts=0, hints=False)

    def replay(self, line: RecordLine) -> Verdict | None:
        """Take one kept line again; return its verdict, None for a line that is no entry.

        A line that makes no sense is passed over. One that a fault of the program keeps from being
        taken is told of as such, so that the lines after it are taken all the same.
        """
        try:
            return self._replayed(line)
        except Exception:  # noqa: BLE001  (one line must not stop all the others)
            _log.exception("A line kept of %s could not be taken", self.question.problem.id)
            step = line.step if line.step and self.working.has(line.step) else ""
            text = line.text if isinstance(line, Entered) else None
            return Verdict(step, text or "", Outcome.FAILED)

    def _replayed(self, line: RecordLine) -> Verdict | None:
        if self.picture_work.takes(line):
            self.working.judgings += isinstance(line, PlacedLine)  # so that it has its bounds too
            return None
        match line:
            case WrittenLine(text=str()):
                return self._take(line)
            case EntryLine(step=str(key), text=str()) if self.working.has(key):
                return self._take(line)
        self._done_again(line)
        return None

    def _done_again(self, line: RecordLine) -> None:
        """Do once more what a line of a record says was done besides typing an entry."""
        match line:
            case PictureAskedLine() if not self.working.rules.marked:
                self.ask_pictures()
            case AnswerLine(question=str(question), answer=str(answer)):
                self._answered(question, answer)
            case MendLine() if self._may_find_slip:
                self._mend_again(line)
            case LeaveLine(step=str(key)) if self.working.has(key):
                self.working.leave(key)
            case FillLine(step=str(key)) if not self.working.rules.marked:
                self.working.fill(key)
            case UnitsNamedLine() | UnitsAskedLine() if not self.working.rules.marked:
                named = isinstance(line, UnitsNamedLine)
                self.take_units(Units.NAMED if named else Units.ASKED)
            case HintLine(step=str(key)) if self.working.has(key) and not self.shows(key):
                if (hint := self.hints_given.following(key)) is not None:
                    self.hints_given.give(key, hint)

    @property
    def _may_find_slip(self) -> bool:
        """Return whether a record may still say which slip is to be found."""
        is_asked = self.slips_to_find > 0 or not self.working.rules.marked
        is_new = self.fading is None and not (self._typed or self.answers)
        return is_asked and self._mending is None and is_new

    def _mend_again(self, line: MendLine) -> None:
        """Have the slips found that a record says; as many as a drill has, where it is one."""
        count = self.slips_to_find
        self._mending = mending_again(self.question, self.catalogue, line, count)
        self.slips_to_find = 0 if self._mending is None else len(self._mending.slips)

    def judged(self, line: Entered) -> Verdict:
        """Keep an entry, then judge it."""
        self._keep(line)
        return self._take(line)

    def _take(self, line: Entered) -> Verdict:
        """Judge an entry at a step, or one that may be any line."""
        text, asked = line.text or "", line.step or ""
        if self.fading is not None:
            self.fading.hand_out()
        if isinstance(line, EntryLine):
            verdict = self.working.enter(asked, text)
        elif self.working.has(asked):
            verdict = self.working.enter_open(asked, text)
        else:
            verdict = self.working.write(text)
        if verdict.counts:
            self._notice_conversion(verdict)
            self.hints_given.begin_again(verdict.step)
            self._habit = (verdict, "")
            if verdict.attempt is not None:
                place = f"{self.question.problem.id} {self.question.seed}"
                self._habit = (verdict, self.habits.notice(place, verdict, self.catalogue))
                self._note_slips(verdict)
            if line.sure is not None:
                right = verdict.outcome in (Outcome.RIGHT, Outcome.FOLLOWED)
                self.sureness.append(SureEntry(verdict.step, line.sure, right))
        self._typed.append((asked, verdict.step, text))
        if verdict.step:
            self._latest = "" if verdict.settled else verdict.step
        if self.mending is not None and self.mending.due(self.answers) is None:
            self.mending.settle(self.working)
        self.taken()
        return verdict

    def _note_slips(self, verdict: Verdict) -> None:
        """Note which slips were made for sure, and on which line."""
        for slip in made_for_sure(self.explained(verdict), self.catalogue):
            lines = self.slips.setdefault(slip, [])
            if verdict.step not in lines:
                lines.append(verdict.step)

    def taken(self) -> None:
        """Do what follows from an entry that was taken; nothing here."""

    def _notice_conversion(self, verdict: Verdict) -> None:
        """Take note of the first try of a line that only converts a given."""
        key, units = verdict.step, self.question.problem.converted
        if key in units and self.working.attempts[key] == 1:
            is_clean = verdict.settled and not self.hints_given.given.get(key)
            self.conversions.notice(units[key], is_clean)

    def take_units(self, units: Units) -> None:
        """Have a number without a unit taken so from now on."""
        self.working.rules = replace(self.working.rules, units=units)
