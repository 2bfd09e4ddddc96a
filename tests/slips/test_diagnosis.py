"""What the tutor says of a student made for measuring: a small part of the benchmark.

`tests/benchmarks/diagnosis.py` measures every problem with many seeds. Its student shares no
arithmetic with the tutor, so that the two can disagree.
"""

from __future__ import annotations

import sys

import pytest
from helpers.source import TESTS

BENCHMARKS = str(TESTS / "benchmarks")
PROBLEMS = [
    "ankle-standing-lean-moment",
    "ankle-then-knee",
    "body-heavy-pack",
    "elbow-how-much",
    "elbow-both-attachments",
    "elbow-level-then-lowered",
    "hip-lifted-leg",
    "knee-half-straight",
    "plain-seesaw",
    "shoulder-raised-arm-bag",
]


def measured(ident: str):
    """Return the counts of one problem with one set of numbers."""
    sys.path.insert(0, BENCHMARKS)
    try:
        from diagnosis import measure_problem

        return measure_problem(ident, 1)
    finally:
        sys.path.remove(BENCHMARKS)


@pytest.fixture(scope="module", params=PROBLEMS)
def tally(request: pytest.FixtureRequest):
    """Return the counts of one problem."""
    return measured(request.param)


def count(tally, measure: str, *outcomes: str) -> int:
    found = tally.total(measure, *outcomes)
    assert tally.total(measure, *{o for m, _, o in tally.counts if m == measure}), measure
    return found


def test_the_student_and_the_tutor_agree_on_what_is_right(tally) -> None:
    """Two ways of working a problem come to the same numbers."""
    assert count(tally, "student and tutor", "same") > 10
    assert count(tally, "student and tutor", "not the same") == 0


def test_nothing_right_is_called_wrong(tally) -> None:
    """Not under any accepted constant, nor rounded on the way, nor worked on from a wrong line."""
    assert count(tally, "right answers", "right") > 100
    assert count(tally, "right answers", "wrong", "unread") == 0
    assert count(tally, "follow-through", "wrong", "unread") == 0


@pytest.mark.parametrize(
    ("measure", "least"),
    [
        ("one slip", 0.97),
        ("one slip, line skipped", 0.95),
        ("two slips", 0.9),
        ("arithmetic", 0.97),
    ],
)
def test_slips_are_told_as_what_they_are(tally, measure: str, least: float) -> None:
    """The slip that was made is told, or one that gives the very number typed."""
    told = count(tally, measure, "named", "tie", "asked", "right", "factor named", "slip named")
    missed = count(
        tally, measure, "named later", "another told", "another asked", "nothing told", "accepted"
    )
    assert told >= least * (told + missed)


def test_random_values_are_hardly_ever_told_for_sure(tally) -> None:
    """A confident wrong diagnosis is worse than none."""
    for measure in ("random, lines before", "random, nothing before"):
        sure = count(tally, measure, "told as sure")
        assert sure <= 0.05 * count(tally, measure, "told as sure", "asked", "nothing told")


def test_half_of_the_load_for_each_of_two_cords_is_made_and_named() -> None:
    """At the first of the two and at the second."""
    found, group = measured("plain-lamp-two-cords"), "half-for-each-of-two"
    outcomes = {o: n for (m, g, o), n in found.counts.items() if (m, g) == ("one slip", group)}
    assert outcomes == {"named": 2}
