"""What of a working is asked for, what of it is done, and what is still to be found."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance, leading_to, led_to
from leverstep.working.rules import Rules
from leverstep.working.standing_lines import Line, StandingLines
from leverstep.working.writing import only_copies_a_given


class LedLines:
    """The lines of one question as a student is led through them. It judges nothing.

    `steps` are all lines, `asked` those that the student is led to, by the degree of guidance.
    `left` holds the keys of lines that were left for now, `filled` of those that were filled in for
    the student, which are not asked for. `attempts` counts the entries judged for a line. `shown`
    holds the keys of lines that are shown one by one, whether they stand already or not.
    """

    shown: frozenset[str] = frozenset()

    def __init__(
        self,
        question: Question,
        guidance: Guidance = Guidance.LINES,
        rules: Rules | None = None,
    ) -> None:
        self.question = question
        self.guidance = guidance
        self.rules = rules or Rules()
        self.steps = question.derivation.asked
        self.asked = led_to(self.steps, guidance)
        self.left: set[str] = set()
        self.filled: set[str] = set()
        self.attempts: dict[str, int] = {}
        self._by_key = {step.key: step for step in self.steps}
        self._standing = StandingLines(question)
        self._tries: dict[str, int] = {}

    @property
    def lines(self) -> dict[str, Line]:
        """Return the standing lines by key."""
        return self._standing.by_key

    @property
    def written(self) -> set[str]:
        """Return the keys of the standing lines that the student wrote."""
        return set(self.lines) - self.filled

    def step(self, key: str) -> Step:
        """Return the asked step with this key; KeyError where there is none."""
        return self._by_key[key]

    def has(self, key: str) -> bool:
        """Return whether there is an asked step with this key."""
        return key in self._by_key

    def leave(self, key: str) -> None:
        """Let a line stand that is not right yet, to go on with the next."""
        self.left.add(key)

    def current(self) -> Step | None:
        """Return the first step asked for that is neither done nor left; None at the end."""
        return next((step for step in self.to_find if step.key not in self.left), None)

    @property
    def to_find(self) -> tuple[Step, ...]:
        """Return the steps asked for that are not done, those that were left among them."""
        return tuple(step for step in self.asked if not self.done(step.key))

    @property
    def complete(self) -> bool:
        """Return whether every line asked for is done."""
        return not self.to_find

    def done(self, key: str) -> bool:
        """Return whether nothing more is asked for on a line: it stands, or can't be tried again.

        Where verdicts are not shown, it is enough that it is written.
        """
        unseen = not self.rules.tells and key in self.lines
        return self.stands(key) or self.closed(key) or unseen

    def closed(self, key: str) -> bool:
        """Return whether all tries for a line are used."""
        return self.tries_left(key) == 0

    def tries_left(self, key: str) -> int | None:
        """Return how often a line may still be tried, None for any number of times.

        A right entry uses up no try where verdicts are shown: else each one does, so that the
        number tells nothing.
        """
        most = self.rules.attempts
        return None if most is None else max(0, most - self.tries_used(key))

    def tries_used(self, key: str) -> int:
        """Return how many entries used up a try of a line."""
        return self._tries.get(key, 0)

    def stands(self, key: str) -> bool:
        """Return whether a line is written and right, as it is or with an earlier value."""
        return key in self.lines and self.lines[key].verdict.settled

    def leads_to(self, key: str) -> Step:
        """Return the line asked for that a line serves now: itself, or the first still to be done
        that rests on it as it is written, one that was left after all the others.

        What rests on it only through a line that is right needs it no more. Where none is still to
        be done it is the first of all.
        """
        step = self.step(key)
        if step in self.asked:
            return step
        right = {one for one in self.lines if self.stands(one)} - {key}
        served, needing = self._resting_on(step, set()), self._resting_on(step, right)
        if not served:
            served = needing = self._next_to(step)
        still = [one for one in needing if not self.done(one.key)]
        return next((one for one in still if one.key not in self.left), (*still, *served)[0])

    def _resting_on(self, step: Step, written: set[str]) -> tuple[Step, ...]:
        """Return the lines asked for that rest on a step, but for what rests on what is written."""
        return tuple(s for s in self.asked if step in leading_to(s, self.steps, written))

    def _next_to(self, step: Step) -> tuple[Step, ...]:
        """Return what a step is for that nothing asked for rests on: an equation, for what stands
        in it; any other, as the angle of the reaction, for the next line.
        """
        within = tuple(one for one in self.asked if one.key in step.quantities)
        if within and not step.kind.is_number:
            return within
        after = (one for one in self.asked if one in self.steps[self.steps.index(step) :])
        return (next(after, self.asked[-1]),)

    def serves(self, key: str) -> bool:
        """Return whether a line is asked for, or leads to one that is still to be done."""
        served = self.leads_to(key).key
        return served == key or not self.done(served)

    def missing(self) -> tuple[Step, ...]:
        """Return the lines that lead to the first thing still to be found, itself the last.

        What was left comes after all the others. A given that goes in as stated needs no line; nor,
        for an answer in words, does what a number that is told to be right was worked out from.
        """
        goal = self.current() or next(iter(self.to_find), None)
        if goal is not None and self._is_implied(goal.key):
            return (goal,)
        leading = () if goal is None else leading_to(goal, self.steps, self._in_hand(goal))
        return tuple(
            step for step in leading if step is goal or not only_copies_a_given(self.question, step)
        )

    def _in_hand(self, goal: Step) -> set[str]:
        """Return the keys of the lines whose values the student has for a goal.

        They are written, or for an answer in words behind a number that is told to be right.
        """
        found = set(self.lines)
        if goal.written or not self.rules.tells:
            return found
        for key in self.lines:
            if self.stands(key) and self.step(key).kind.is_number:
                found |= self.question.derivation.ancestors(key)
        return found

    def _is_implied(self, key: str) -> bool:
        """Return whether a step is what an equation in numbers, told to be right, comes to."""
        equations = (self.lines.get(s.key) for s in self.steps if s.kind is kinds.EQUATION)
        return self.rules.tells and any(line and line.implies == key for line in equations)
