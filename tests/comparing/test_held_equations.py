"""What an equation is found to be for one student counts for others only where it is the same."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from leverstep.comparing.held_equations import held_in_samples, samples_at
from leverstep.comparing.samples import names_among
from leverstep.course.shelf import load_shelf
from leverstep.entry.grammar import read_line
from leverstep.entry.tree import Tree
from leverstep.working.standing_lines import StandingLines
from leverstep.working.writing import worked_line

ANGLES = ("alpha", "beta")
PROBLEMS = load_shelf().problems


def changed(text: str) -> list[str]:
    """Return an equation, and wrong ones made of it that hold for some numbers alone."""
    other_function = text.replace("cos", "§").replace("sin", "cos").replace("§", "sin")
    return [text, text.replace("+", "-", 1), text.replace("-", "+"), other_function]


def test_an_equation_holds_for_a_student_as_its_own_samples_say() -> None:
    answers, compared = set(), 0
    for problem in list(PROBLEMS.values())[::14]:
        for seed in ("1", "2", "1"):
            question = problem.question(seed)
            if question.trouble:
                continue
            for step in question.derivation.asked:
                if not step.kind.is_equation:
                    continue
                one, symbols = question.at(step), StandingLines(question).names
                for text in changed(worked_line(one, step, question.right)):
                    sides: tuple[Tree, ...] = read_line(text, symbols)
                    found = held_in_samples(one, step, sides)
                    assert found == tuple(each.holds(sides) for each in samples_at(one, step)), text
                    answers.add(found)
                    compared += bool(names_among(sides))
    assert len(answers) > 1
    assert compared > 40


def test_what_holds_at_one_angle_alone_is_not_taken_for_another() -> None:
    """Sine for cosine makes no difference at 45°."""
    question = PROBLEMS["plain-lamp-two-cords"].question("1")
    held = []
    for angle in (45, 40, 45, 50):
        one = replace(question, exact={**question.exact, **dict.fromkeys(ANGLES, Fraction(angle))})
        step = one.derivation.step("sum_y")
        sides = read_line("T_l cos(α) + T_r cos(β) − W_w = 0", StandingLines(one).names)
        held.append(all(held_in_samples(one, step, sides)))
    assert held == [True, False, True, False]
