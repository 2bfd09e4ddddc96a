"""How free-body diagrams that students draw are judged: right ones in any order, wrong ones named.

Prints the table of README: `python tests/benchmarks/own_diagrams.py [--seeds N]`. The student's
geometry is its own, so that the two can disagree.
"""

from __future__ import annotations

import argparse
import random
import time

import checkout  # noqa: F401  (before what it finds)
from helpers.picture_students import PictureStudent
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.free_body.body_picture import BodyPicture, pictures_of
from machine import machine
from tables import Tally

ORDERS = 3
"""A right picture is drawn in so many orders."""


def measure_picture(question: Question, picture: BodyPicture, seed: int, tally: Tally) -> None:
    """Draw a right picture in several orders, and each wrong thing alone."""
    problem = question.problem
    draw = random.Random(f"{problem.id} {problem.posture.mark} {seed}")
    student, group = PictureStudent(question, picture), problem.id
    right = student.right()
    for _ in range(ORDERS):
        draw.shuffle(right)
        drawn = BodyPicture(question)
        for placing in right:
            assert drawn.makes_sense(placing), (problem.id, placing)
            is_right = drawn.place(placing).is_right
            tally.add("right", group, "right" if is_right else "called wrong", str(placing))
        outcome = "right" if drawn.is_right else "called wrong"
        tally.add("whole", group, outcome, f"{drawn.missing}")
    for one in student.wrong(draw):
        assert picture.makes_sense(one.placing), (problem.id, one.placing)
        found = picture.judged(one.placing)
        called = "called right" if found.is_right else "called wrong"
        example = f"{one.placing}: {one.slips}, told {found.slips}"
        tally.add("wrong", group, called, example)
        is_named = set(found.slips) == set(one.slips)
        tally.add("slip", group, "named" if is_named else "another", example)
    for item in picture.needed:
        partial = BodyPicture(question)
        for placing in right:
            if placing.item != item:
                partial.place(placing)
        seen = partial.missing == (item,) and not partial.is_right
        tally.add("missing", group, "seen" if seen else "not seen", item)


def measured(seeds: int) -> tuple[Tally, int]:
    """Return the counts over all problems that are offered, and how many have a picture."""
    shelf, tally, count = load_shelf(), Tally(), 0
    for card in shelf.offered:
        problem = shelf.problems[card.id]
        count += bool(pictures_of(problem.question("1")))
        for seed in range(1, seeds + 1):
            question = problem.question(str(seed))
            if question.trouble:
                continue
            for picture in pictures_of(question):
                measure_picture(picture.question, picture, seed, tally)
    return tally, count


def main() -> None:
    """Measure, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--list", action="store_true", help="list what was missed")
    options = parser.parse_args()
    start = time.monotonic()
    tally, count = measured(options.seeds)
    print(f"{machine()}\n")
    print(f"{count} problems with a diagram, {options.seeds} seeds each, {ORDERS} orders\n")
    print(f"{time.monotonic() - start:.0f} s\n") if options.list else None
    for name, measure, outcome, other in ROWS:
        good, bad = tally.total(measure, outcome), tally.total(measure, other)
        print(f"{name:<32} {good + bad:>8} {100 * good / max(good + bad, 1):>8.2f} % {outcome}")
    if options.list:
        for (measure, group, outcome), examples in sorted(tally.examples.items()):
            if outcome in ("called right", "another", "not seen") or (
                measure in ("right", "whole") and outcome == "called wrong"
            ):
                print(measure, group, outcome, *examples, sep="\n    ")


ROWS = (
    ("right things, in any order", "right", "right", "called wrong"),
    ("whole right diagrams", "whole", "right", "called wrong"),
    ("wrong things", "wrong", "called wrong", "called right"),
    ("the slip behind them", "slip", "named", "another"),
    ("one thing left out", "missing", "seen", "not seen"),
)
"""What each row is called, its measure, the outcome that is counted, and the other one."""

if __name__ == "__main__":
    main()
