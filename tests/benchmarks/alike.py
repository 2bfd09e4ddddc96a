"""How often records are called alike that are not, and how often copied ones are missed.

Classes are drawn in which nobody copies: each line is typed right, with three or four figures, or
with a mistake of arithmetic, units or copying of digits, and no slip is taken to explain it, which
is the worst case. Then one student in ten copies lines of another. Nothing is judged by the tutor.

    python tests/benchmarks/alike.py [CLASSES]
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Iterator

import checkout  # noqa: F401  (before what it finds)
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.marking.marking import Entry
from leverstep.reports.alike import Likeness
from leverstep.working.verdict import Outcome
from leverstep.working.writing import quantity

MISTAKEN = 0.35
"""The share of lines on which a student makes a mistake first."""

FACTORS = (9.81, 1 / 9.81, 100, 0.01, 10, 0.1, 2.205, 0.4536, 2.54, 0.3048, 2, 0.5, -1)
Typed = dict[str, tuple[str, str]]


def mistaken(draw: random.Random, values: list[float], value: float, figures: int) -> float:
    """Return a wrong value in place of one."""
    match draw.randrange(4):
        case 0:
            return value * draw.choice(FACTORS)
        case 1:
            return draw.choice(values)
        case 2:
            digits = list(f"{value:.{figures}g}")
            place = draw.choice([n for n, digit in enumerate(digits) if digit.isdigit()])
            digits[place] = draw.choice("0123456789")
            return float("".join(digits))
    return value * draw.uniform(0.5, 2)


def worked(draw: random.Random, question: Question) -> Iterator[tuple[str, str, str, str]]:
    """Yield each line of a student who copies nothing: key, kind, right text, text typed first."""
    values = question.graph.values(question.numbers, {})
    steps = [step for step in question.derivation.asked if step.kind.is_number]
    figures = draw.choice((3, 4))
    for step in steps:
        value = values[step.key]
        right = quantity(value, step.unit, figures)
        first = right
        if draw.random() < MISTAKEN:
            wrong = mistaken(draw, [values[s.key] for s in steps], value, figures)
            if abs(wrong - value) > 0.01 * abs(value):
                first = quantity(wrong, step.unit, figures)
        yield step.key, step.kind.name, right, first


def entry(task: int, key: str, kind: str, text: str, right: bool) -> Entry:
    """Return an entry as marking has it."""
    outcome = Outcome.RIGHT if right else Outcome.WRONG
    return Entry(task, key, kind, text, outcome, (), False, 0.0, None, False, "")


def class_of(draw: random.Random, size: int, copied: int) -> Counter[str]:
    """Draw a class with a drill of four problems; count the pairs there were and those found.

    Every tenth student copies `copied` lines of the student before, where the numbers differ.
    """
    shelf = load_shelf()
    problems = [shelf.problems[name] for name in draw.sample(sorted(shelf.problems), 4)]
    likeness, before, copiers = Likeness(), {}, set()
    for student in range(size):
        entries, now = [], {}
        for task, problem in enumerate(problems, 1):
            question = problem.question(f"{draw.random()}")
            if question.trouble:
                continue
            for key, kind, right, first in worked(draw, question):
                now[task, key] = right
                entries += [entry(task, key, kind, first, False)] if first != right else []
                entries.append(entry(task, key, kind, right, True))
        if student % 10 == 9 and copied:
            own = {(e.task, e.step): e for e in entries}
            others = [p for p in own if p in before and before[p] != now[p]]
            for place in draw.sample(others, min(copied, len(others))):
                entries.append(entry(*place, own[place].kind, before[place], False))
            copiers.add((student - 1, student))
        likeness.add(student, entries, range(1, 5))
        before = now
    found = {(pair.right, pair.wrong) for pair in likeness.pairs()}
    return Counter(
        copied=len(copiers), found=len(found & copiers), false=len(found - copiers), classes=1
    )


def main() -> None:
    """Print the counts for some sizes of class and some numbers of copied lines."""
    classes = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    print("size  copied lines  classes  pairs copied  found  pairs named wrongly")
    for size, copied in ((30, 0), (30, 4), (30, 8), (30, 16), (300, 0)):
        draw = random.Random(f"{size} {copied}")
        total: Counter[str] = Counter()
        for _ in range(classes if size < 100 else max(1, classes // 10)):
            total += class_of(draw, size, copied)
        print(
            f"{size:4} {copied:13} {total['classes']:8} {total['copied']:13} "
            f"{total['found']:6} {total['false']:20}"
        )


if __name__ == "__main__":
    main()
