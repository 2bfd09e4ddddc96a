"""Lines that give a value: right, right with an earlier value, wrong, or not to be judged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from leverstep.course.problem import Question
from leverstep.entry.reading import Reading
from leverstep.entry.tree import Reason
from leverstep.statics import kinds
from leverstep.statics.choices import Choice
from leverstep.statics.step import Step
from leverstep.working.attempt import Attempt
from leverstep.working.judge import Judgement, judge_value, other_definition
from leverstep.working.precision import as_a_book_rounds, is_coarse
from leverstep.working.standing_lines import Line, StandingLines
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import ask, effort_name, given_about
from leverstep.working.writing import quantity

_IN_WORDS = {2: "two", 3: "three"}


def judge_value_line(
    lines: StandingLines, step: Step, text: str, reading: Reading, tells: bool
) -> Line:
    """Return the line of a value at a step, judged beside the lines that stand.

    Where `tells` is set the student sees what comes of it.
    """
    question = lines.question.at(step)
    reading = _in_given_unit(question, step, _weighed(question, reading))
    own, wrong = lines.carried(step)
    judged, reading = _judged_kindly(question, step, reading, (own, wrong))
    if (why := _not_judged(question, step, reading, judged, tells)) is not None:
        return Line(text, None, Verdict(step.key, text, Outcome.UNREAD, why))
    if judged.right or judged.follows:
        followed = not judged.right and bool(wrong)
        outcome = Outcome.FOLLOWED if followed else Outcome.RIGHT
        return Line(text, reading, Verdict(step.key, text, outcome, _remark(step, reading)))
    if choice := other_definition(question, step, reading, (own, wrong)):
        # True by another definition: asked for again, or where nothing is told, right by it.
        reason = _definition_told(question, step, choice)
        outcome = Outcome.UNREAD if tells else Outcome.RIGHT
        return Line(text, None if tells else reading, Verdict(step.key, text, outcome, reason))
    beside = lines.beside(step.key)
    reading = as_a_book_rounds(question, reading) or reading
    attempt = Attempt(question, step, reading, own, wrong, written=beside)
    verdict = Verdict(step.key, text, Outcome.WRONG, _matter(step, reading), attempt=attempt)
    return Line(text, reading, verdict)


def _judged_kindly(
    question: Question, step: Step, reading: Reading, carried: Sequence[Mapping[str, float]]
) -> tuple[Judgement, Reading]:
    """Return what a value is judged to be, by the first way to read it that is right or follows."""
    judged = judge_value(question, step, reading, carried)
    if judged.right or judged.follows:
        return judged, reading
    for other in _other_readings(question, reading):
        again = judge_value(question, step, other, carried)
        if again.right or again.follows:
            return again, other
    return judged, reading


def _not_judged(
    question: Question, step: Step, reading: Reading, judged: Judgement, tells: bool
) -> Reason | None:
    """Return why a value is not judged: for its form, or as a zero that only follows."""
    if judged.empty and tells:
        return Reason("zero_follows")
    if judged.coarse or (not tells and is_coarse(question, step, reading)):
        return Reason.of("too_coarse", figures=_IN_WORDS[question.problem.figures])
    return None


def _other_readings(question: Question, reading: Reading) -> Iterator[Reading]:
    """Yield what else a text may say: in bare numbers, or rounded as a book rounds."""
    if reading.as_number is not None:
        # `m_l/2.205*g` takes the number of pounds, though its symbol stands for a mass.
        yield reading._replace(value=reading.as_number)
    if (rounded := as_a_book_rounds(question, reading)) is not None:
        yield rounded


def _weighed(question: Question, reading: Reading) -> Reading:
    """Return a mass that stands for a weight as that weight, or a weight as its mass."""
    if not reading.gravity:
        return reading
    factor = question.accepted["g"][0] ** reading.gravity
    half_digit = reading.half_digit * factor
    return reading._replace(
        value=reading.value * factor,
        half_digit=half_digit,
        as_number=None,
        worked=reading.worked * factor,
        gravity=0,
    )


def _in_given_unit(question: Question, step: Step, reading: Reading) -> Reading:
    """Return a mass typed for a force in kilograms, unless it is in the unit of the given."""
    if not reading.mass_unit or step.unit != "N":
        return reading
    given = given_about(question, step)
    if given is not None and given.unit == reading.mass_unit:
        return reading
    half_digit = reading.half_digit * reading.size
    return reading._replace(value=reading.value * reading.size, half_digit=half_digit)


def _matter(step: Step, reading: Reading) -> Reason | None:
    """Return what is the matter with a wrong value that no slip explains: a bearing, a sum of all
    moments.
    """
    if reading.bearing is not None:
        return Reason("bearing_off")
    is_sum_of_all = step.kind is kinds.SUM and reading.value == 0
    return Reason("sum_of_all") if is_sum_of_all else None


def _remark(step: Step, reading: Reading) -> Reason | None:
    """Return what to note about a right entry in another unit."""
    if not reading.converted:
        return None
    if reading.converted == "J":
        return Reason("joule")
    return Reason.of("converted", in_unit=step.unit, value=quantity(reading.value, step.unit))


def _definition_told(question: Question, step: Step, other: Choice) -> Reason:
    """Return what to say of a mechanical advantage by another definition: which, and what is meant.

    `other` is the choice by which it is that.
    """
    meant = ask(question, step).partition(": ")[2]
    if step.kind is kinds.ARM_ADVANTAGE:
        return Reason.of("other_definition", found="resistance over effort", meant=meant)
    of = "distances" if question.problem.posture.by_components else "arms"
    load = question.problem.names.get(other.other, "")
    found = (
        f"the ratio of {of}, {effort_name(question)} over {load}" if load else "the ratio of arms"
    )
    return Reason.of("other_definition", found=found, meant=meant)
