"""Couples: what a file says of one, what follows from it, and what is a fault."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import effort, head, kilograms, load, quantity, read_text, segment
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.diagram.described import describe
from leverstep.diagram.layout import layout
from leverstep.slips.telling import tell
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

GOOD = (
    head("A test", "{m_l} at {d_l}, {C_b} of a brace; {d_m}.", "elbow")
    + segment("forearm", "elbow")
    + effort("F_m", "flexors", quantity("d_m", 4, "cm"))
    + load("W_l", "pail", kilograms(2), quantity("d_l", 30, "cm"))
    + """
[[load]]
symbol = "C_b"
name = "friction of the brace"
couple = { value = 3, unit = "N·m" }
turns = "clockwise"
"""
)
TURNS = 'turns = "clockwise"'
WEIGHT = GOOD[GOOD.index("[[load]]") : GOOD.index('[[load]]\nsymbol = "C_b"')]


def read(*changes: tuple[str, str]) -> Problem:
    """Return the problem of the good text with some of it replaced."""
    return read_text(GOOD, *changes)


@pytest.mark.parametrize(("turns", "moment"), [("clockwise", -3), ("counter-clockwise", 3)])
@pytest.mark.parametrize(("positive", "sign"), [("counter-clockwise", 1), ("clockwise", -1)])
def test_a_couple_stands_in_the_moments_and_not_among_the_forces(
    turns: str, moment: float, positive: str, sign: int
) -> None:
    sense = ("difficulty = 1", f'difficulty = 1\npositive = "{positive}"')
    values = read((TURNS, f'turns = "{turns}"'), sense).question("1").right
    weight = 2 * 9.81 * 0.3
    assert values["M_b"] == pytest.approx(sign * moment)
    assert values["M_sum"] == pytest.approx(sign * (moment - weight))
    assert values["F_m"] == pytest.approx((weight - moment) / 0.04)
    assert values["R_y"] == pytest.approx(2 * 9.81 - values["F_m"])


def test_a_couple_may_be_all_that_is_balanced() -> None:
    question = read((WEIGHT, ""), ("{m_l} at {d_l}, ", "")).question("1")
    assert question.trouble == ""
    assert question.right["F_m"] == pytest.approx(75)
    assert question.right["R_y"] == pytest.approx(-75)
    with pytest.raises(KeyError):
        question.derivation.step("MA")


@pytest.mark.parametrize("unit", ["N·m", "N m", "Nm"])
def test_its_unit_may_be_typed_as_one_can(unit: str) -> None:
    question = read(('unit = "N·m"', f'unit = "{unit}"')).question("1")
    assert "3 N·m of a brace" in question.statement


def test_it_is_told_in_words_and_in_the_picture() -> None:
    question = read().question("1")
    assert "C_b, friction of the brace, a couple of 3 N·m: turns clockwise." in describe(question)
    assert "↻ C_b" in "\n".join(layout(question, 60, 16).lines)
    assert "cw C_b" in "\n".join(layout(question, 60, 16, unicode=False).lines)


FAULTS = {
    "no sense": ((TURNS, ""), "load[2].turns: missing; expected one of"),
    "a force's unit": (
        ('unit = "N·m"', 'unit = "N"'),
        'expected one of "N·m", "N·L", "N m", "Nm"',
    ),
    "a place": (
        (TURNS, TURNS + '\nat = { symbol = "d_c", value = 3, unit = "cm" }'),
        "load[2].at: unknown key; expected one of",
    ),
    "a name that clashes": (
        ('symbol = "C_b"', 'symbol = "C_l"'),
        'symbol: "M_l" is also what a step about C_l is called; expected another symbol',
    ),
    "no size": (
        ('couple = { value = 3, unit = "N·m" }\n', ""),
        'load[2].couple: missing; expected a table such as { value = 2, unit = "N·m" }',
    ),
    "a class of lever": (
        (TURNS, TURNS + "\n[ask]\nclass = true"),
        "ask.class: asked for beside C_b, a couple, which has no arm to compare; expected no class",
    ),
    "an advantage": (
        (TURNS, TURNS + '\n[ask]\nadvantage = "ratio of arms"'),
        "ask.advantage: asked for beside C_b, a couple, which has no arm to compare; expected no",
    ),
    "ratios": (
        (TURNS, TURNS + "\n[ask]\nratios = true"),
        "ask.ratios: a couple has no arm to compare; expected no ratios",
    ),
    "nothing that turns": (
        (TURNS, TURNS + '\n[ask]\nfind = "reaction"'),
        "load: found a couple; expected forces alone, where nothing turns",
    ),
    "the same way as the effort": (
        (WEIGHT, ""),
        "effort.direction: the effort turns the same way as every load",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_with_its_place_and_what_was_expected(name: str) -> None:
    change, expected = FAULTS[name]
    more = [(TURNS, 'turns = "counter-clockwise"')] if change[0] == WEIGHT else []
    with pytest.raises(FileError) as told:
        read(change, *more)
    assert any(expected in str(fault) for fault in told.value.faults), str(told.value)


def test_couples_alone_are_no_problem_of_forces() -> None:
    effort = GOOD[GOOD.index("[effort]") : GOOD.index("[[load]]")]
    with pytest.raises(FileError, match="found no force; expected a force beside the couple"):
        read((effort, ""), (WEIGHT, ""), (TURNS, TURNS + '\n[ask]\nfind = "moment"'))


def test_an_equation_may_begin_with_the_couple() -> None:
    """Written freely, a couple alone on one side is no given that is said again."""
    from_couple = read((WEIGHT, ""), ("{m_l} at {d_l}, ", "")).question("1")
    working = Working(from_couple, Guidance.BLANK)
    verdict = working.write("C_b = F_m*d_m")
    assert (verdict.step, verdict.outcome) == ("equation", Outcome.RIGHT)
    assert working.write("C_b = F_m").outcome is Outcome.WRONG


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("F_m*d_m - W_l*d_l - C_b*d_l = 0", "a couple multiplied by an arm"),
        ("F_m*d_m - W_l*d_l + C_b = 0", "the sign of one moment"),
        ("F_m*d_m - W_l*d_l = 0", "a load left out"),
    ],
)
def test_a_couple_in_a_wrong_equation_is_told(typed: str, said: str) -> None:
    working = Working(read().question("1"))
    verdict = working.enter("equation", typed)
    assert verdict.outcome is Outcome.WRONG
    assert said in tell(working, verdict, CATALOGUE)
