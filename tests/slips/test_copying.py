"""Numbers copied with their digits changed: always a question, and after every single slip."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.copying import number_of, swapped, with_a_digit_changed
from leverstep.slips.explained import explained
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.working.verdict import Verdict
from leverstep.working.working import Working
from leverstep.working.writing import quantity

PROBLEMS = load_shelf([shipped("problems")]).problems
PAIL = PROBLEMS["elbow-full-pail"].question("7")
"""11.0 lb at 35.0 cm; 1.65 kg at 0.682 of 25.5 cm; the flexors at 4.6 cm."""
THAT_TELL_WHICH = ("force", "distance", "mass_moment")
"""Kinds of lines that tell which given was copied wrongly; in a sum two may give one number."""


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        ("53.5", {"35.5", "55.3"}),
        ("57", {"75"}),
        ("0.682", {"6.082", "0.862", "0.628"}),
        ("11.0", {"10.1"}),
        ("20", set()),  # 02 is written by nobody
    ],
)
def test_digits_beside_each_other_are_swapped(number: str, expected: set[str]) -> None:
    """Across the decimal point as well, but never to a number that nobody writes."""
    assert set(swapped(number)) == expected


def test_one_digit_is_changed_at_a_time() -> None:
    """Every digit may be any other, but for a nought at the front."""
    changed = list(with_a_digit_changed("35"))
    assert len(changed) == len(set(changed)) == 8 + 9
    assert all(sum(a != b for a, b in zip(one, "35", strict=True)) == 1 for one in changed)


def entered(question: Question, key: str, text: str) -> tuple[Working, Verdict]:
    working = Working(question)
    return working, working.enter(key, text)


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("W_f", "60.33 N", "copy 1.65 kg as 6.15"),  # 6.15*9.81
        ("d_f", "0.628*0.255 m", "copy 0.682 as 0.628"),
        ("W_l", "12/2.205*9.81 N", "copy 11.0 lb as 12.0"),
        ("d_l", "0.5300 m", "copy 35.0 cm as 53.0"),
    ],
)
def test_a_number_copied_wrongly_is_asked_about(key: str, text: str, said: str) -> None:
    """The number is named as a question, and the hint names both."""
    working, verdict = entered(PAIL, key, text)
    (told,) = explained(verdict, CATALOGUE).explanations
    assert not told.sure
    assert [finding.slip for finding in told.findings] == ["digits-miscopied"]
    words = tell(working, verdict, CATALOGUE)
    assert words == f"Not yet. Did you perhaps {said} (digits miscopied)?"
    happened = hints(working, key, CATALOGUE)[1].text
    assert all(part in happened for part in said.removeprefix("copy ").split(" as "))


@pytest.mark.parametrize("name", sorted(PROBLEMS))
def test_it_is_never_told_for_sure_and_never_before_another_slip(name: str) -> None:
    """Whatever two digits of a given are swapped, it is asked, or one slip gives the number too."""
    question = PROBLEMS[name].question("7")
    asked = 0
    for step in question.derivation.asked:
        if step.kind.name not in THAT_TELL_WHICH:
            continue
        for given in set(step.uses) & question.numbers.keys():
            for number in swapped(number_of(question, given)):
                copied = {**question.numbers, given: float(number)}
                value = question.graph.on_demand(copied, {})[step.key]
                _, verdict = entered(question, step.key, quantity(value, step.unit, 5))
                if verdict.settled:
                    continue  # the tolerance hides it
                first = explained(verdict, CATALOGUE).explanations[0]
                if first.findings[0].miscopied:
                    asked += 1
                    assert not first.sure
                    assert (first.findings[0].miscopied, len(first.findings)) == (given, 1)
                else:
                    assert len(first.findings) == 1
    assert asked


def test_two_slips_are_not_told_for_sure_where_a_digit_copied_wrongly_would_do() -> None:
    """Over all problems, no pair is sure that a single changed digit of one given explains."""
    pairs = 0
    for name in sorted(PROBLEMS)[::5]:
        question = PROBLEMS[name].question("7")
        for step in question.derivation.asked:
            if step.kind.name not in ("force", "distance"):
                continue
            for given in set(step.uses) & question.numbers.keys():
                for number in with_a_digit_changed(number_of(question, given)):
                    copied = {**question.numbers, given: float(number)}
                    value = question.graph.on_demand(copied, {})[step.key]
                    _, verdict = entered(question, step.key, quantity(value, step.unit, 5))
                    for told in explained(verdict, CATALOGUE).explanations:
                        pairs += len(told.findings) > 1
                        assert not (told.sure and len(told.findings) > 1)
    assert pairs


@pytest.mark.parametrize(
    ("seed", "key", "text", "line"),
    [
        ("28", "d_n", "0.53 m", "d_f"),  # 21 × 0.0254 comes to as much, rounded
        ("28", "d_n", "53 cm", "d_f"),
        ("28", "d_n", "53/100 m", "d_f"),
        ("7", "MA2", "0.2167", "MA1"),
        ("7", "F_f", "498.0 N", "F_n"),
    ],
)
def test_a_number_of_another_posture_is_told_as_that(
    seed: str, key: str, text: str, line: str
) -> None:
    """A given that is typed as it is comes before a factor that fits by rounding alone."""
    question = PROBLEMS["lumbar-near-and-far"].question(seed)
    working, verdict = entered(question, key, text)
    found = explained(verdict, CATALOGUE)
    ((finding,),) = (one.findings for one in found.explanations)
    assert (finding.slip, finding.line) == ("value-of-another-posture", line)
    assert "another posture or segment" in tell(working, verdict, CATALOGUE)


def test_a_slip_that_gives_the_very_number_comes_before_another_given() -> None:
    """Only what fits by rounding gives way to a given that is typed as it is."""
    question = PROBLEMS["lumbar-near-and-far"].question("28")
    _, verdict = entered(question, "d_n", "21 m")
    (told,) = explained(verdict, CATALOGUE).explanations
    assert [finding.slip for finding in told.findings] == ["unit-of-length-left"]
