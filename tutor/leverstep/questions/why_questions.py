"""The lines of a worked example, each with its reason; now and then that is asked for.

Choosing the reason behind a step of an example helps more than only reading it: Bisra, Liu, Nesbit,
Salimi & Winne (2018), Educational Psychology Review 30, on self-explanation; and the last lines
being left open, more from one example to the next: Atkinson, Renkl & Merrill (2003), Journal of
Educational Psychology 95. Both by their abstracts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort
from leverstep.slips.catalogue import Catalogue, Misconception
from leverstep.slips.filling import filled, unit_given
from leverstep.slips.ladder import because
from leverstep.statics.step import Step
from leverstep.working.page import named_line, posture_of
from leverstep.working.wording import what_is
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

WRONG_REASONS = 2
"""So many wrong reasons stand beside the right one."""

MOST_READ = 4
"""After so many lines in a row that were only read, why is asked of a kind that was met before."""

RIGHT = "because"
"""The key of the right reason; each wrong one has the id of its misconception."""

_ON = OfferedAnswer("on", "Go on")


def _shown_line(working: Working, step: Step) -> str:
    """Return a line as it is shown: named, and worked out with the right values."""
    return named_line(step, worked_line(working.question, step, working.question.right))


def why_questions(
    working: Working, steps: Sequence[Step], catalogue: Catalogue
) -> tuple[ChoiceQuestion, ...]:
    """Return a question for each line that is shown: why it is so, or one to read its reason by.

    Why is asked the first time that a kind of line comes, and again after some that were only read;
    not of two lines in a row, and only where there are wrong reasons to offer. Which they are, and
    in what order, follows from the numbers.
    """
    made: list[ChoiceQuestion] = []
    met: set[str] = set()
    posture, only_read = "", MOST_READ
    for number, step in enumerate(steps, 1):
        of_posture = posture_of(working.question, step)
        named = f"{of_posture}. " if of_posture and of_posture != posture else ""
        posture = of_posture
        line = f"{what_is(working.question, step)}: {_shown_line(working, step)}"
        place = f"{named}Line {number} of {len(working.steps)}, {line}."
        wrong = _wrong_reasons(working, step, catalogue)
        reason = because(working, step.key, catalogue)
        is_due = only_read >= (MOST_READ if step.kind.name in met else 1)
        only_read += 1
        if wrong and is_due:
            only_read = 0
            met.add(step.kind.name)
            made.append(_why(working, step, f"{place} Why is this line so?", reason, wrong))
        else:
            answers, asks = (_ON,), f"{place} {reason}"
            key, right = shown_key(step.key), frozenset[str]()
            made.append(ChoiceQuestion(key, QuestionSort.READ, asks, answers, right, truth=reason))
    return tuple(made)


def shown_key(line: str) -> str:
    """Return the key of the question of a line, whether why is asked or not, by that of the line.

    So an example was read as far whatever wrong reasons are known where its record is taken again.
    """
    return f"shown:{line}"


def _why(
    working: Working, step: Step, asks: str, reason: str, wrong: Sequence[OfferedAnswer]
) -> ChoiceQuestion:
    right = OfferedAnswer(RIGHT, reason, "That is the reason.")
    answers = sorted((right, *wrong), key=lambda one: working.question.lot(step.key, one.key))
    sort, is_right = QuestionSort.WHY, frozenset({RIGHT})
    return ChoiceQuestion(shown_key(step.key), sort, asks, tuple(answers), is_right, truth=reason)


def _wrong_reasons(working: Working, step: Step, catalogue: Catalogue) -> tuple[OfferedAnswer, ...]:
    """Return the wrong reasons that are offered at a line; () where there are too few."""
    there = catalogue.misconceptions_at(step.kind.name, unit_given(working, step))
    drawn = sorted(there, key=lambda one: working.question.lot("why", step.key, one.id))
    offered = tuple(_offered(working, step, drawn[:WRONG_REASONS]))
    return offered if len(offered) == WRONG_REASONS else ()


def _offered(
    working: Working, step: Step, wrong: Sequence[Misconception]
) -> Iterator[OfferedAnswer]:
    for one in wrong:
        thought, told = (filled(text, working, step, None) for text in (one.thought, one.told))
        yield OfferedAnswer(one.id, thought, told)
