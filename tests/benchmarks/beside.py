"""What is asked beside the lines, over every problem that is offered, and how long that takes.

Prints the table of README: `python tests/benchmarks/beside.py [SEEDS]`. A guess is right as often
as answers that count are among those offered. A student who predicts by vectors alone answers what
is asked before the first line. What is made once for a problem, its derivation, is left out of the
times.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterator
from statistics import mean, quantiles
from time import perf_counter

import checkout  # noqa: F401  (before what it finds)
from helpers.predictions import predicted
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.expectations import expectations
from leverstep.questions.sense_questions import sense_questions

Maker = Callable[[Question], tuple[ChoiceQuestion, ...]]

WHEN: dict[str, Maker] = {
    "before the first line": expectations,
    "after the last line": sense_questions,
}


def questions(seeds: int) -> Iterator[Question]:
    """Yield every problem with the numbers of some seeds, with its derivation made."""
    shelf = load_shelf()
    for card in shelf.offered:
        for seed in range(1, seeds + 1):
            question = shelf.problems[card.id].question(str(seed))
            assert not question.trouble
            yield question


def tell(name: str, make: Maker, asked_of: list[Question]) -> None:
    """Print what one maker asks, of how many workings, and how long that takes."""
    made: list[tuple[ChoiceQuestion, ...]] = []
    times = []
    for question in asked_of:
        begun = perf_counter()
        made.append(make(question))
        times.append(1000 * (perf_counter() - begun))
    numbers = [len(each) for each in made]
    print(
        f"{name}: {mean(numbers):.1f} questions, at most {max(numbers)}, none in "
        f"{sum(not number for number in numbers)} of {len(numbers)} workings"
    )
    every = [one for each in made for one in each]
    for sort in QuestionSort:
        of_it = [one for one in every if one.sort is sort]
        if of_it:
            guess = mean(len(one.right) / len(one.answers) for one in of_it)
            print(f"    {sort.value:42} {len(of_it):6}   a guess is right {100 * guess:3.0f} %")
    places = Counter(
        number
        for one in every
        for number, answer in enumerate(one.answers, 1)
        if answer.key in one.right
    )
    most = 100 * max(places.values()) / sum(places.values())
    print(f"    right at the commonest digit               {most:5.0f} %")
    print(
        f"    made in                                    {mean(times):5.1f} ms"
        f"   99th percentile {quantiles(times, n=100)[98]:.1f} ms"
    )


def tell_predicted(asked_of: list[Question]) -> None:
    """Print how often the answer of a student with vectors of its own is called right."""
    came = Counter({"right": 0, "called wrong": 0})
    for question in asked_of:
        for one in expectations(question):
            found = predicted(question, one)
            came["right" if found <= one.right else "called wrong"] += bool(found)
            came["not told by vectors of one posture alone"] += not found
    print("    predicted by a student with vectors of its own")
    for outcome, number in came.items():
        print(f"        {outcome:41} {number:6}")


def main(seeds: int = 3) -> int:
    """Print the table for so many seeds of each problem."""
    asked_of = list(questions(seeds))
    print(f"{len(asked_of)} workings, {seeds} seeds of each problem\n")
    for name, make in WHEN.items():
        tell(name, make, asked_of)
        if make is expectations:
            tell_predicted(asked_of)
    return 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
