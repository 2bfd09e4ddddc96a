"""Why a line is so: one right reason among three, and wrong ones that say nothing true."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from leverstep.bench.bench import Bench
from leverstep.bench.record_lines import RecordLine
from leverstep.bench.replaying import keep_nothing
from leverstep.questions.choice_question import QuestionSort
from leverstep.questions.why_questions import MOST_READ, RIGHT
from leverstep.slips.filling import filled, unit_given
from leverstep.slips.ladder import because, hints
from leverstep.statics.kinds import KINDS
from leverstep.statics.step import Step
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

LONGEST = 140
"""Letters of an answer with its places filled: two rows of a narrow screen."""

SMALL = frozenset(
    re.findall(
        r"\w+",
        """
        a an the and or so that this it its is are be been to of in on at as by for from with what
        which who where when how much only all any each one other than then them they there here
        would has have had does do i e
        """,
    )
)
"""Words without which a sentence says as much; none that turns it round, such as "not"."""


def content(text: str) -> frozenset[str]:
    """Return the words of a sentence that carry its meaning."""
    return frozenset(re.findall(r"[a-z]+", text.lower())) - SMALL


def says_no_more(one: str, other: str) -> bool:
    """Return whether of two sentences one only has words that the other has too."""
    few, many = sorted((content(one), content(other)), key=len)
    return len(few) > 2 and few <= many


def first_right(seed: str) -> int:
    """Return at which place the right reason of the first line stands."""
    question = SHELF.problems["elbow-full-pail"].question(seed)
    asked = Bench(question, CATALOGUE, keep_nothing, shown=1).to_answer
    assert asked is not None
    return [one.key for one in asked.answers].index(RIGHT)


def sentences(*texts: str) -> Iterator[str]:
    for text in texts:
        yield from re.split(r"(?<=[.?!:]) |; ", text)


def true_of(working: Working, step: Step) -> set[str]:
    """Return what is said of a line that is true: its reason, its hints, what slips of it teach."""
    said = [because(working, step.key, CATALOGUE)]
    said += [hint.text for hint in hints(working, step.key, CATALOGUE)]
    said += [one.reason for one in CATALOGUE.slips.values() if step.kind.name in one.kinds]
    said += [
        filled(one.told, working, step, None)
        for one in CATALOGUE.misconceptions[step.kind.name]
    ]  # fmt: skip
    return {*sentences(*said), *said}


@pytest.mark.parametrize("part", range(8))
def test_of_every_shown_line_one_reason_is_right_and_no_other_true(part: int) -> None:
    """Each line that can be shown is right, not asked for, has its reason, and is kept so."""
    sorts: Counter[QuestionSort] = Counter()
    for ident in sorted(SHELF.problems)[part::8]:
        kept: list[RecordLine] = []
        question_of = SHELF.problems[ident].question("1")
        bench = Bench(question_of, CATALOGUE, kept.append, shown=99)
        fading, working = bench.fading, bench.working
        assert fading is not None, ident
        assert [*fading.lines] == [step.key for step in working.steps]
        alone = Working(bench.question)
        while (question := bench.to_answer) is not None:
            key = fading.at_hand(bench.answers)
            step = working.step(key)
            assert alone.enter(key, fading.lines[key]).outcome is Outcome.RIGHT, (ident, key)
            assert step not in working.asked
            assert question.truth == because(working, key, CATALOGUE)
            if question.sort is QuestionSort.WHY:
                check_reasons(alone, step, {one.key: one.text for one in question.answers})
            sorts[question.sort] += 1
            bench.answer(question, question.answers[0].key)
        assert working.asked == ()
        assert not working.attempts
        assert working.complete, ident
        _is_taken_again(bench, kept)
        kept.clear()
        own = Bench(question_of, CATALOGUE, kept.append, shown=len(working.steps) - 1)
        (last,) = own.working.asked
        own.enter(last.key, worked_line(question_of, last, question_of.right))
        assert own.working.complete, ident
        _is_taken_again(own, kept)
    assert min(sorts[QuestionSort.WHY], sorts[QuestionSort.READ]) > 20


def _is_taken_again(bench: Bench, kept: Sequence[RecordLine]) -> None:
    """Check that what was kept of a bench comes to the same once more."""
    assert bench.fading is not None
    again = Bench(bench.question, CATALOGUE, keep_nothing, shown=bench.fading.count)
    for line in kept:
        again.replay(line)
    assert state(again) == state(bench)


def state(bench: Bench) -> tuple[object, ...]:
    """Return all that a student sees of a working, and all that it is marked by."""
    working = bench.working
    lines = {key: (line.text, line.verdict.outcome) for key, line in working.lines.items()}
    return lines, working.filled, working.asked, working.attempts, bench.answers, bench.reasoned


def check_reasons(working: Working, step: Step, offered: dict[str, str]) -> None:
    """Check that three different reasons are offered, and all that may be beside the right one."""
    assert len({text.lower() for text in offered.values()}) == len(offered) == 3
    assert offered.pop(RIGHT) == because(working, step.key, CATALOGUE)
    there = CATALOGUE.misconceptions_at(step.kind.name, unit_given(working, step))
    thought = {one.id: filled(one.thought, working, step, None) for one in there}
    assert offered.items() <= thought.items()
    true = true_of(working, step)
    for text in thought.values():
        assert len(text) <= LONGEST
        assert not re.search(r"[{}]|  |\.\.", text), text
        for said in true:
            assert not says_no_more(text, said), (step.kind.name, text, said)


def test_a_sentence_with_no_word_of_its_own_is_a_paraphrase() -> None:
    reason = "A mass is not a force: its weight is mass times g, in newtons."
    assert says_no_more("Weight, in newtons, is mass times g.", reason)
    assert not says_no_more("Weight, in newtons, is mass divided by g.", reason)
    assert not says_no_more("A mass is a force, and its weight is mass in newtons less g.", reason)


def test_every_kind_of_line_has_wrong_reasons_to_offer() -> None:
    units = {unit for there in CATALOGUE.general.values() for one in there for unit in one.given}
    for kind in KINDS:
        given = {unit for one in CATALOGUE.general[kind] for unit in one.given} & units
        for unit in given or {""}:
            assert len(CATALOGUE.misconceptions_at(kind, unit)) >= 2, (kind, unit)


def test_why_is_asked_now_and_then_and_the_same_for_the_same_numbers() -> None:
    for seed in ("1", "2"):
        question = SHELF.problems["elbow-full-pail"].question(seed)
        one, other = (Bench(question, CATALOGUE, keep_nothing, shown=99) for _ in range(2))
        assert one.fading is not None
        assert other.fading is not None
        assert one.fading.lines == other.fading.lines
        assert one.fading.questions == other.fading.questions
        asked = [q.sort is QuestionSort.WHY for q in one.fading.questions.values()]
        assert not any(a and b for a, b in pairwise(asked))
        assert sum(asked) > 3
        runs = "".join("?" if is_why else "." for is_why in asked).split("?")
        assert max(map(len, runs)) <= MOST_READ
    assert len({tuple(a.key for a in q.answers) for q in one.fading.questions.values()}) > 0


def test_the_right_reason_may_stand_at_any_place() -> None:
    assert {first_right(str(seed)) for seed in range(12)} == {0, 1, 2}
