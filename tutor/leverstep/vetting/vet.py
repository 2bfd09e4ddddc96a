"""Vetting problem files: what can't be read, and what goes wrong for some numbers of a range.

A file is read first; then many students' numbers are drawn, and the corners of its ranges are
tried. Whatever has no equilibrium, no sensible answer, or hides a slip is told.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError, failing_as_fault
from leverstep.course.force_tables import unlikely_turns
from leverstep.course.problem import PLACEHOLDER, Problem, Question
from leverstep.course.problem_file import read_problem
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.hypotheses import Hypothesis, hypotheses
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.vetting.vet_meant import unlikely_joint, varying_class
from leverstep.vetting.vet_picture import unseen
from leverstep.working.judge import accepted
from leverstep.working.writing import quantity, value_text

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

SEEDS = 200
"""How many students' numbers are drawn."""

CORNERS = 256
"""At most so many corners of the ranges are tried."""

LEAST = 1e-3
"""An answer smaller than this share of its largest is next to nothing, and hard to round."""

_SEEDS_FOR_SLIPS = 12
_SEEDS_FOR_PICTURES = 20


@dataclass(frozen=True, slots=True)
class ValueSpan:
    """The values that one line takes over all numbers drawn, each once and in order."""

    step: Step
    values: tuple[float, ...]

    @property
    def low(self) -> float:
        """Return the least of them."""
        return self.values[0]

    @property
    def high(self) -> float:
        """Return the largest of them."""
        return self.values[-1]

    @property
    def text(self) -> str:
        """Return the span in words: `11.8 to 19.6 N`, or one word where it is a choice."""
        if not self.step.kind.is_number:
            return " or ".join(value_text(self.step, value) for value in self.values)
        low, high = (quantity(value, self.step.unit, 3) for value in (self.low, self.high))
        return high if low == high else f"{quantity(self.low, '', 3)} to {high}"


@dataclass(frozen=True)
class Report:
    """What vetting found in one file: faults, remarks that stop nothing, and the answers' spans."""

    file: str
    problem: Problem | None
    faults: tuple[Fault, ...]
    remarks: tuple[Fault, ...] = ()
    spans: tuple[ValueSpan, ...] = ()


def vet_files(
    paths: Iterable[Traversable], catalogue: Catalogue, joints: Iterable[str] = ()
) -> Iterator[Report]:
    """Yield a report for each problem file; of two with one id, the second has a fault.

    `joints` are those of the problems that ship; one nearly called so may be meant.
    """
    ids: dict[str, str] = {}
    for path in paths:
        report = vet_file(path, catalogue)
        problem = report.problem
        if problem is not None:
            remarks = *unlikely_joint(problem, report.file, joints), *report.remarks
            report = replace(report, remarks=remarks)
        if problem is not None and problem.id in ids:
            found = f'"{problem.id}" is taken by {ids[problem.id]}'
            fault = Fault(report.file, "id", found, "a new id")
            report = replace(report, faults=(*report.faults, fault), spans=())
        elif problem is not None:
            ids[problem.id] = report.file
        yield report


def vet_file(path: Traversable, catalogue: Catalogue) -> Report:
    """Return what is wrong with a problem file, and what its answers span."""
    name = str(path)
    try:
        problem = read_problem(path, name)
    except FileError as error:
        return Report(name, None, error.faults)
    return vet_problem(problem, name, catalogue)


def vet_problem(
    problem: Problem,
    name: str,
    catalogue: Catalogue,
    accepted: Mapping[str, tuple[float, ...]] | None = None,
) -> Report:
    """Return what is wrong with a problem that could be read, from a file of this name.

    `accepted` holds the values that count for the constants that a drill sets.
    """
    try:
        with failing_as_fault(name):
            return _vetted(problem, name, catalogue, accepted)
    except FileError as error:
        return Report(name, problem, error.faults)


def _vetted(
    problem: Problem,
    name: str,
    catalogue: Catalogue,
    accepted: Mapping[str, tuple[float, ...]] | None,
) -> Report:
    faults = [*_unstated(problem, name), *_unlikely_turns(problem, name, sure=True)]
    drawn = [problem.question(str(seed), accepted=accepted) for seed in range(SEEDS)]
    corners = (
        replace(corner, accepted=problem.accepting(accepted)) for corner in _corners(problem)
    )
    troubled = next((one for one in itertools.chain(drawn, corners) if one.trouble), None)
    if troubled is not None:
        place = f"the numbers {_numbers(troubled)}".rstrip()
        faults.append(Fault(name, place, troubled.trouble, "an equilibrium"))
        return Report(name, problem, tuple(faults))
    spans = tuple(_spans(drawn))
    faults += _vanishing(spans, name)
    faults += unseen(drawn[:_SEEDS_FOR_PICTURES], name)
    remarks = [
        *_unlikely_turns(problem, name, sure=False), *varying_class(drawn, name),
        *_unusual(drawn, name),
    ]  # fmt: skip
    remarks += _hidden(drawn[:_SEEDS_FOR_SLIPS], catalogue, name)
    return Report(name, problem, tuple(faults), tuple(remarks), spans)


def _unstated(problem: Problem, name: str) -> Iterator[Fault]:
    """Yield the givens that a student finds neither in the statement nor in a table."""
    looked_up = {d.given for d in problem.distances if d.of is not None}
    looked_up |= {f.between.fraction for f in problem.forces if f.between is not None}
    looked_up |= {f.share.given for f in problem.forces if f.share is not None}
    stated = {problem.placeholders[sign] for sign in PLACEHOLDER.findall(problem.statement)}
    for given in problem.givens:
        in_table = problem.table is not None and given in looked_up
        if given not in stated and not in_table:
            symbol = next((s for s, one in problem.placeholders.items() if one == given), given.key)
            yield Fault(name, "statement", f"{symbol} is given but not stated", f"{{{symbol}}}")


def _unlikely_turns(problem: Problem, name: str, *, sure: bool) -> Iterator[Fault]:
    """Yield the moment arms said to turn the other way than direction and side of the axis do."""
    for place, found, expected in unlikely_turns(problem.posture, problem.middle, sure=sure):
        yield Fault(name, place, found, expected)


def _corners(problem: Problem) -> Iterator[Question]:
    """Yield the problem with every given at an end of its range, all ways or a sample of them."""
    ends = {key: (span.low, span.high) for key, span in problem.ranges.items() if span.count > 1}
    ends |= problem.own
    if 2 ** len(ends) <= CORNERS:
        chosen: Iterable[tuple[Fraction, ...]] = itertools.product(*ends.values())
    else:
        chance = random.Random(problem.id)
        chosen = [tuple(map(chance.choice, ends.values())) for _ in range(CORNERS)]
    fixed = {key: span.low for key, span in problem.ranges.items()}
    for number, values in enumerate(chosen):
        numbers = fixed | dict(zip(ends, values, strict=True))
        yield Question(problem, f"corner {number}", numbers)


def _numbers(question: Question) -> str:
    """Return the numbers of a question in one line."""
    ranges = question.problem.ranges
    shown = [given for given in question.givens if ranges[given.key].count > 1]
    return ", ".join(f"{given.sign} {question.written(given)}" for given in shown)


def _spans(drawn: list[Question]) -> Iterator[ValueSpan]:
    """Yield the span of each line that has a number, over all questions that have it."""
    found: dict[str, tuple[Step, list[float]]] = {}
    for question in drawn:
        values = question.right
        for step in question.derivation.asked:
            if step.key in values:
                found.setdefault(step.key, (step, []))[1].append(values[step.key])
    for step, values_of in found.values():
        yield ValueSpan(step, tuple(sorted(set(values_of))))


def _vanishing(spans: tuple[ValueSpan, ...], name: str) -> Iterator[Fault]:
    """Yield the lines whose answer comes to next to nothing for some numbers.

    One that is nothing for all of them is an answer: a sum or a component where forces balance. A
    component whose effect is asked for in words must be something.
    """
    asked = {span.step.kind for span in spans}
    needed = {kinds.REACTION_AXIAL} if kinds.AXIAL_EFFECT in asked else set()
    for span in spans:
        kind = span.step.kind
        may_be_nothing = kind.answer is kinds.AnswerForm.SIGNED and kind not in needed
        if not kind.is_number or (may_be_nothing and span.low == span.high == 0):
            continue
        largest = max(abs(span.low), abs(span.high))
        changes = span.low <= 0 <= span.high
        if changes or min(abs(span.low), abs(span.high)) < LEAST * largest:
            found = f"it runs from {span.low:.3g} to {span.high:.3g} {span.step.unit}".rstrip()
            if span.low == span.high:
                found = f"it is {span.text}"
            yield Fault(name, f"the line {span.step.key}", found, "an answer well away from zero")


def _unusual(drawn: list[Question], name: str) -> Iterator[Fault]:
    """Yield where class of lever and mechanical advantage are none that books have together.

    Common practice: an advantage above 1 for the second class, and below 1 for the third.
    """
    keys = {(v.key(kinds.LEVER_CLASS), v.key(kinds.ADVANTAGE)) for q in drawn for v in q.views}
    values = [(q.right.get(one), q.right.get(other)) for q in drawn for one, other in sorted(keys)]
    for code, word, sign, usual in ((2, "second", -1, "above"), (3, "third", 1, "below")):
        found = (advantage for lever, advantage in values if lever == code)
        odd = [one for one in found if one is not None and (one - 1) * sign > 0]
        if odd:
            told = (
                f"with {len(odd)} of {len(drawn)} numbers the class is {word} and MA "
                f"{quantity(odd[0], '', 3)}; common practice has it {usual} 1"
            )
            yield Fault(name, "the line class", told, "numbers that agree, or class = false")


def _passes_for_right(question: Question, made: Hypothesis) -> bool:
    """Return whether the value of a slip at one line alone would be taken for right there."""
    if {choice.step for choice, _ in made.changes} != {made.step}:
        return False
    if not question.derivation.step(made.step).kind.is_number:
        return False
    takes_ten = any(choice.kind == "gravity_ten" for choice, _ in made.changes)
    if takes_ten and 10.0 in question.accepted["g"]:
        return False  # it is no slip here
    try:
        value = question.graph.probe(made.step, question.numbers, {}).at(made.changes)
    except ArithmeticError:
        return False
    band = accepted(question, made.step)
    return band.holds(value)


def _hidden(drawn: list[Question], catalogue: Catalogue, name: str) -> Iterator[Fault]:
    """Yield the slips whose wrong value would be taken for right with some numbers."""
    found: dict[tuple[str, str], int] = {}
    for question in drawn:
        made = hypotheses(question.derivation, catalogue)
        passing = ((one.step, one.slip.name) for one in made if _passes_for_right(question, one))
        for key in dict.fromkeys(passing):
            found[key] = found.get(key, 0) + 1
    for (step, slip), times in found.items():
        told = f'with {times} of {len(drawn)} numbers the slip "{slip}" gives a right value'
        yield Fault(name, f"the line {step}", told, "numbers that tell it apart")
