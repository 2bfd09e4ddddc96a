"""Whatever stands on a page: each line is judged, soon, and nothing fails over it."""

from __future__ import annotations

import random
import time
from collections import Counter

import pytest
from helpers.pace import slowness
from helpers.sweeps import seeds
from helpers.variety import VARIED
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import LONGEST_LINE, MOST_LINES, Page, judge_page
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"].question("7")
PAGES = 4
"""Pages for each problem, unless more are asked for."""
LINES = 10
LONGEST = 0.050
"""Seconds of processor time that a line may take."""

NUMBERS = ["0", "0.0", "1e-300", "5e-324", "1e30", "9e29", "1e400", "-3", "9.81", "42", "1,5", "½"]
SIGNS = [*"((()))++--**//^===|:;,.!?[]{}$_%'\"°×·÷√→↓²∑", "\\frac{", "}{", "**", "⁻¹", "\t", "   "]
FUNCTIONS = ["sin", "cos", "tan 90", "asin 2", "acos", "sqrt(-1)", "sqrt", "log", "1/0", "0/0"]
UNITS = ["kg", "N", "N m", "Nm", "cm", "lb", "lbf", "in", "deg", "N^9", "km ", "kN m kN m", "m/s^2"]
SYMBOLS = [
    "F",
    "F_m = ",
    "W = 0 N",
    "M",
    "ΣM",
    "R_x",
    "Fy",
    "x",
    "theta",
    "g",
    "mg",
    "J",
    "MA",
    "q0z",
]
WORDS = [
    "weight", "of", "the", "arm", "moment", "muscle", "total", "angle", "up", "left", "clockwise",
    "positive", "class", "2nd", "lever", "direction", "reaction", "joint", "horizontal", "it",
    "squared", "times", "half of", "per cent", "gives", "minus", "nan", "inf", "力", "\x00",
]  # fmt: skip
PIECES = [*NUMBERS, *SIGNS, *FUNCTIONS, *UNITS, *SYMBOLS, *WORDS]
REPEATED = ["(", "(1 ", "-", "sqrt ", "1+", "F*", "| 1", "a(", "x=y ", "1 x ", "**", "km ", "1 of "]


def any_line(question: Question, chance: random.Random) -> str:
    """Return anything that may stand on a line."""
    keys = [step.key for step in question.derivation.steps]
    match chance.randrange(9):
        case 0:
            return chance.choice(REPEATED) * chance.choice([5, 30, LONGEST_LINE])
        case 1:
            terms = [f"{chance.uniform(0, 100):.2f}" for _ in range(chance.randrange(1, 60))]
            return "+".join(terms) + chance.choice([" = 5", " = F", " = 100 N"])
        case 2:
            return f"{chance.choice(keys)} = {chance.choice([*keys, *PIECES])}"
        case 3:
            names = [chance.choice("FWRMxadk") + chance.choice(["", "_1", "y"]) for _ in range(9)]
            return " ".join(f"{name} = {chance.uniform(-3, 300):.3g} N" for name in names)
        case 4 | 5:
            key, factor = chance.choice(keys), chance.choice([1.0, -1.0, 9.81, 1.1, 0.0, 1e9])
            own = question.derivation.step(key).unit.replace("·", " ")
            unit = chance.choice([own, chance.choice(UNITS)])
            return f"{key} = {question.right.get(key, 1.0) * factor:.4g} {unit}"
    pieces = [chance.choice([*PIECES, *keys]) for _ in range(chance.choice([1, 3, 8, 20, 90]))]
    return chance.choice(["", " "]).join(pieces)[:LONGEST_LINE]


def taken(page: Page, text: str) -> float:
    """Return how long a line takes to be judged, in seconds of processor time."""
    began = time.process_time()
    page.write(text)
    return time.process_time() - began


def is_slow(question: Question, lines: list[str]) -> bool:
    """Return whether the last of some lines takes too long, on each of three pages."""
    return all(
        taken(judge_page(question, lines[:-1]), lines[-1]) > LONGEST * slowness() for _ in range(3)
    )


@pytest.mark.parametrize("name", VARIED)
def test_any_line_is_judged(name: str) -> None:
    chance = random.Random(name)
    question = SHELF.problems[name].question(str(chance.randrange(1000)))
    found: Counter[LineStanding] = Counter()
    for _ in seeds(PAGES):
        page = Page(question)
        lines = [any_line(question, chance) for _ in range(LINES)]
        for place, text in enumerate(lines, start=1):
            assert taken(page, text) <= LONGEST or not is_slow(question, lines[:place]), text
        assert [line.text for line in page.lines] == lines
        found.update(line.standing for line in page.lines)
    assert len(found) > 2, "what is made up must not be all of one kind"


CROWDED = {
    "equations of symbols that nothing is known of": [
        "; ".join(f"A{i}*b{i}=C{i}" for i in range(12))
    ] * 3,
    "one equation in four guises": [" and ".join(["W d = F x, "] * 20)] * 4,
    "many results": [
        *(" ; ".join(f"weight = {n + 12 * i}.5 N" for n in range(12)) for i in range(40)),
        "weight " + "+".join(f"{i}e{power}" for i in range(1, 9) for power in range(3)) + " = 5 N",
    ],
    "many units": ["F_a moment " + "km " * 60, "km " * 130],
    "many spaces": ["a =1".ljust(LONGEST_LINE - 1) + "?"],
}  # fmt: skip


@pytest.mark.parametrize("lines", CROWDED.values(), ids=CROWDED)
def test_a_crowded_line_is_judged_soon(lines: list[str]) -> None:
    assert not is_slow(PAIL, lines)


@pytest.mark.parametrize("text", ["2 * 3 = 6 N ; " * 200, "(" * 2000, "1," * 1000])
def test_a_line_that_is_too_long_is_unread(text: str) -> None:
    assert len(text) > LONGEST_LINE
    assert Page(PAIL).write(text).standing is LineStanding.UNREAD


def test_a_line_of_the_longest_length_is_read() -> None:
    text = "W_f = 16.2 N".ljust(LONGEST_LINE)
    assert Page(PAIL).write(text).standing is LineStanding.RIGHT
    assert Page(PAIL).write(text + " ").standing is LineStanding.UNREAD


def test_lines_too_far_down_are_unread() -> None:
    began = time.process_time()
    lines = judge_page(PAIL, ["W_f = 1.65 * 9.81 = 16.2 N"] * 10_000).lines
    assert time.process_time() - began < MOST_LINES * LONGEST * slowness()
    assert len(lines) == 10_000
    assert {line.standing for line in lines[:MOST_LINES]} == {LineStanding.RIGHT}
    assert {line.standing for line in lines[MOST_LINES:]} == {LineStanding.UNREAD}


@pytest.mark.parametrize(
    "text",
    [
        "W_f = 0 N", "F = 3 / 0 N", "F = 0 / 0", "F * 0 = 0", "0 = 0", "M_f = 1e30 N m",
        "F_m = 1e-300 N", "log 0 = 5", "F_m = 5e-324 * 1e-10 = 0 N", "km " * 60 + ": 5 = 6",
    ],
)  # fmt: skip
def test_what_has_no_value_leaves_the_next_lines_to_be_judged(text: str) -> None:
    page = Page(PAIL)
    page.write(text)
    assert page.write("M_l = 0 N m").standing in (LineStanding.WRONG, LineStanding.FOLLOWS)
    assert page.write("W_l = 48.9 N").standing is LineStanding.RIGHT
