"""The lines of one question, each judged at its step and kept; again where others change."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from dataclasses import replace

from leverstep.claims.judged_line import Claim
from leverstep.claims.plain_writing import has_decimal_comma, with_points
from leverstep.comparing.balance_numbers import in_symbols
from leverstep.comparing.balance_terms import say_the_same
from leverstep.entry.amount import Amount
from leverstep.entry.grammar import read_line
from leverstep.entry.reading import (
    Reading,
    after_symbol,
    in_unit_named,
    read_entry,
    without_lead,
)
from leverstep.entry.tree import Reason, Unreadable, names_in
from leverstep.entry.usual_entries import read_usual
from leverstep.entry.way_behind import says_side, says_way, turn_as_sign, way_as_sign
from leverstep.statics import kinds
from leverstep.statics.force_axes import level_axis
from leverstep.statics.step import Step
from leverstep.working.equation_lines import judge_numbers, judge_symbols
from leverstep.working.free import FreeLine, is_read, read_free_line
from leverstep.working.guidance import Guidance
from leverstep.working.judge import judge_value
from leverstep.working.led_lines import LedLines
from leverstep.working.rules import Units
from leverstep.working.standing_lines import Line, as_typed, is_comma
from leverstep.working.value_lines import judge_value_line
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import force_about, given_about

_log = logging.getLogger(__name__)


class AskedLines(LedLines):
    """The lines of one question, each entered at its step.

    `judgings` counts what was judged or judged again. `later` holds the keys of lines that are not
    judged before the line at hand is done. Where `explains` is taken back, a wrong line is only
    said to be wrong: its verdict holds nothing to look for a reason in.
    """

    later: frozenset[str] = frozenset()
    judgings = 0
    explains = True

    @property
    def to_fill(self) -> tuple[str, ...]:
        """Return the keys of the lines that may be filled in: they only convert a given.

        On a blank sheet nothing stands that the student did not write.
        """
        if self.guidance is Guidance.BLANK:
            return ()
        keys = self.question.problem.converted
        return tuple(s.key for s in self.steps if s.key in keys and s.key not in self.lines)

    def fill(self, key: str) -> None:
        """Fill in a line that only converts a given; it is asked for no more."""
        if key not in self.to_fill:
            return
        step = self.step(key)
        given = given_about(self.question, step)
        assert given is not None, "a line that converts has a given"
        text = self.question.written(given)
        reading = Reading(self.question.right[key])
        self._put_in(Line(text, reading, Verdict(key, text, Outcome.RIGHT)))

    def hand_out(self, key: str, text: str) -> None:
        """Let a line stand that is none of the student's; it is asked for no more.

        It is right, or follows from what stands before it; where it follows anew, what rests on it
        is judged again.
        """
        is_anew = key in self.filled
        if is_anew and self.lines[key].text == text:
            return
        line = self._judge(self.step(key), text)
        self._put_in(line._replace(verdict=Verdict(key, text, Outcome.RIGHT)))
        if is_anew:
            self._judge_later(key)

    def _put_in(self, line: Line) -> None:
        """Let a line stand that the student did not write, and ask for it no more."""
        key = line.verdict.step
        self.lines[key] = line
        self.filled.add(key)
        self.left.discard(key)
        self.asked = tuple(step for step in self.asked if step.key != key)

    def take_back(self, key: str) -> None:
        """Take a line away again that was handed out."""
        if key in self.filled:
            self.filled.discard(key)
            del self.lines[key]

    def enter(self, key: str, text: str) -> Verdict:
        """Judge an entry at a step, and keep it where it could be read.

        Later lines that rest on it are judged again.
        """
        return self._refused(key, text) or self._keep(self._judge(self.step(key), text))

    def would_stand(self, key: str, text: str) -> bool:
        """Return whether an entry would be right at a step; nothing comes of asking."""
        return self._judge(self.step(key), text).verdict.settled

    def _refused(self, key: str, text: str) -> Verdict | None:
        """Return the verdict on what is not judged: it was filled in, comes later, all tries are
        used, or it stands there.
        """
        if key in self.filled:
            return Verdict(key, text, Outcome.UNREAD, Reason.of("filled", name=key))
        if key in self.later:
            return Verdict(key, text, Outcome.UNREAD, Reason.of("comes_later", name=key))
        if self.closed(key):
            return Verdict(key, text, Outcome.UNREAD, Reason("tries_used"))
        standing, step = self.lines.get(key), self.step(key)
        if standing is None:
            return None
        said = {after_symbol(text, step)}
        if self.rules.units is Units.NAMED:
            said.add(after_symbol(in_unit_named(text, step), step))
        there = filter(None, (standing.text, standing.as_read))
        if any(after_symbol(one, step) in said for one in there):
            return Verdict(key, text, Outcome.SAME)
        return None

    def _keep(self, line: Line) -> Verdict:
        """Keep a line where it counts; return its verdict."""
        key = line.verdict.step
        if line.verdict.counts:
            self.attempts[key] = self.attempts.get(key, 0) + 1
            if not (self.rules.tells and line.verdict.settled):
                self._tries[key] = self._tries.get(key, 0) + 1
            line = self._let_stand(line)
            self.left.discard(key)
            self._judge_later(key)
        return line.verdict

    def _let_stand(self, line: Line) -> Line:
        """Let a line stand, with what may explain it unless no reasons are looked for."""
        if not self.explains:
            line = line._replace(verdict=replace(line.verdict, attempt=None))
        self.lines[line.verdict.step] = line
        return line

    def _names(self, key: str, text: str) -> bool:
        """Return whether an entry is an equation in which the symbol of a step stands."""
        try:
            sides = read_line(without_lead(text), self._standing.symbols)
        except Unreadable:
            return False
        named = {name.symbol for side in sides for name in names_in(side)}
        return len(sides) > 1 and key in named

    def says_more(self, key: str, text: str) -> bool:
        """Return whether an entry that is not right as a value of its step is an equation in
        numbers, as `F_m*0.042 = 33.36` is at the mechanical advantage.

        Its first side is no value of the step by itself, as that of `W_l/F_m = 0.118` is.
        """
        step, known = self.step(key), self._standing.known(key)
        try:
            free = read_free_line(text, self.question, known)
        except Unreadable:
            return False
        is_chain = is_read(text.partition("=")[0], step, known)
        may_be = free.implied is not None and not is_chain
        return may_be and not self._judge(step, text).verdict.settled

    def own_values(self, key: str) -> dict[str, float]:
        """Return the values written on the lines that a step rests on, by key."""
        return self._standing.beneath(key)

    def values(self) -> Mapping[str, float]:
        """Return the value of every step, the student's own in place of those written."""
        return self._standing.values()

    def values_known(self) -> dict[str, Amount]:
        """Return every symbol that a line may have, with its value as it stands (else nan)."""
        return dict(self._standing.known())

    @property
    def symbols(self) -> tuple[str, ...]:
        """Return every symbol that a line may have, whether it has a value yet or not."""
        return self._standing.symbols

    def _judge_later(self, key: str) -> None:
        """Judge again the lines that rest on a step, first to last."""
        standing = self.lines
        for step in [s for s in self.question.derivation.resting_on(key) if s.key in standing]:
            if not step.kind.is_equation:  # symbols rest on no values
                again = self._judged_again(step, standing[step.key])
                if again.verdict.counts:
                    self._let_stand(again)

    def _judged_again(self, step: Step, line: Line) -> Line:
        """Judge a standing line once more, by what it says now."""
        if line.claimed is None or line.reading is None:
            again = self._judge(step, line.as_read or line.text)
            return as_typed(again, line.text)
        if not step.kind.is_number:
            return line
        return self._judge_claim(step, line.text, line.reading, line.claimed)

    def _judge_claim(self, step: Step, text: str, reading: Reading, claim: Claim) -> Line:
        """Judge what a page took as the value of a step, beside the lines that stand."""
        line = self._judge_reading(step, text, reading)
        verdict = line.verdict
        if verdict.attempt is not None:
            verdict = replace(verdict, attempt=replace(verdict.attempt, claimed=True))
        return line._replace(verdict=verdict, claimed=claim)

    def _judge(self, step: Step, text: str) -> Line:
        try:
            line = self._judged(step, text)
            return self._with_comma_read(step, line) if is_comma(line) else line
        except Exception:  # noqa: BLE001  (a fault of ours must not take the sitting down)
            return Line(text, None, self._failed(step.key, text))

    def _is_right_alone(self, step: Step, line: Line) -> bool:
        """Return whether a line is a number that is right, whatever else stands."""
        number = read_usual(line.text, step, self._standing.names)
        if number is None or number != line.reading or line.verdict.outcome is not Outcome.RIGHT:
            return False
        return judge_value(self.question.at(step), step, number, ()).right

    def _failed(self, key: str, text: str) -> Verdict:
        """Return the verdict on a line that a fault of the program keeps from being judged."""
        _log.exception("A line of %s could not be judged", self.question.problem.id)
        return Verdict(key, text, Outcome.FAILED)

    def _judged(self, step: Step, text: str) -> Line:
        try:
            text, reading = self._read(step, text)
            if step.kind.is_equation:
                self.judgings += 1
                reading = self._with_forces_named(step, reading)
                self._check_new(step, reading)
                return judge_symbols(self.question.at(step), step, text, reading)
        except Unreadable as error:
            verdict = Verdict(step.key, text, Outcome.UNREAD, error.reason, error.place)
            again = self._judge_equation_again(step, text) or self._judge_by_way(step, text)
            return again or Line(text, None, verdict)
        return self._judge_reading(step, text, reading)

    def _with_forces_named(self, step: Step, reading: Reading) -> Reading:
        """Return an equation of forces with the forces whose sizes stand in it; others as read."""
        if step.kind.part is not kinds.Part.BALANCE:
            return reading
        question, own = self.question.at(step), self._standing.beside(step.key)
        return reading._replace(sides=in_symbols(question, reading.sides, own))

    def _check_new(self, step: Step, reading: Reading) -> None:
        """Refuse an equation that only says again what another one that stands says."""
        for key, line in self.lines.items():
            other = self.step(key)
            is_other = other is not step and other.kind.part is step.kind.part is kinds.Part.BALANCE
            is_other = is_other and self.stands(key)
            sides = line.reading.sides if is_other and line.reading is not None else ()
            if sides and say_the_same(self.question.at(step), sides, reading.sides):
                raise Unreadable("same_equation")

    def _with_comma_read(self, step: Step, line: Line) -> Line:
        """Judge a number with a comma before three digits, `2,815`, as decimals or as thousands.

        It is decimals where a line that stands has decimal commas, else whichever is right. Where
        neither is, or what is right is not told, the student is asked.
        """
        as_decimals = self._judged(step, with_points(line.text, comma=True))
        if self.writes_commas:
            return as_typed(as_decimals, line.text)
        whole = self._judged(step, with_points(line.text, comma=False))
        right = [one for one in (as_decimals, whole) if one.verdict.settled and self.rules.tells]
        return as_typed(right[0], line.text) if right else line

    @property
    def writes_commas(self) -> bool:
        """Return whether a line that stands has decimal commas."""
        lines = self.lines.values()
        return any(has_decimal_comma(one.text) or "." in one.as_read for one in lines)

    def _read(self, step: Step, text: str) -> tuple[str, Reading]:
        """Return what a text says at a step; with the unit of the step where it names none, if the
        rules have it taken so.
        """
        try:
            return text, self._reading(step, text)
        except Unreadable as error:
            if self.rules.units is Units.ASKED or error.reason.code != "no_unit":
                raise
        named = in_unit_named(text, step)
        return named, self._reading(step, named)

    def _reading(self, step: Step, text: str) -> Reading:
        usual = read_usual(text, step, self._standing.names)
        return usual or read_entry(text, step, self._standing.known(step.key))

    def _judge_by_way(self, step: Step, text: str) -> Line | None:
        """Judge a force with its way behind it: the way is the sign of a component, and no part of
        a size, as the side of an angle is none. A moment's turn is its sign. None for any other.
        """
        turned = turn_as_sign(text, self.question.at(step).problem.posture.positive)
        if turned != text and step.unit == "N·m" and not step.kind.is_size:
            return as_typed(self._judged(step, turned), text)
        if step.unit == "deg" and says_side(text):
            reason = Reason("way_of_size")
            return Line(text, None, Verdict(step.key, text, Outcome.UNREAD, reason))
        if not says_way(text) or step.unit != "N":
            return None
        axis = level_axis(step.kind, force_about(self.question, step))
        signed = way_as_sign(text, axis) if axis else text
        if signed != text:
            return as_typed(self._judged(step, signed), text)
        reason = Reason("way_of_size") if step.kind.is_size else Reason("way_of_axis")
        return Line(text, None, Verdict(step.key, text, Outcome.UNREAD, reason))

    def _judge_equation_again(self, step: Step, text: str) -> Line | None:
        """Judge a line that was written as an equation with numbers; None where it is none of a
        step.

        `19.94 = F_m*0.046` is one of F_m, whether it was asked for or written freely.
        """
        try:
            free = read_free_line(text, self.question, self._standing.known(step.key))
            if free.implied is None or step.key not in (free.key, free.of):
                return None
            if free.key == step.key:
                return self._judge_numbers(free, free.implied, text)
        except Unreadable:
            return None
        return self._judge_reading(step, text, free.implied)

    def _judge_numbers(self, free: FreeLine, implied: Reading, text: str) -> Line:
        self.judgings += 1
        return judge_numbers(self._standing, free, implied, text, self.rules.tells)

    def _judge_reading(self, step: Step, text: str, reading: Reading) -> Line:
        self.judgings += 1
        return judge_value_line(self._standing, step, text, reading, self.rules.tells)
