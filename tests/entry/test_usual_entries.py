"""One number with a unit is read alike by the short road and by the long one."""

from __future__ import annotations

import math

from helpers.drill_sittings import SHELF
from leverstep.course.problem import Question
from leverstep.entry.amount import Amount
from leverstep.entry.reading import Reading, read_entry
from leverstep.entry.tree import Unreadable
from leverstep.entry.usual_entries import read_usual
from leverstep.statics.step import Step
from leverstep.statics.units import TABLE
from leverstep.working.standing_lines import StandingLines

NUMBERS = ("12.5", "−0.046", "123456789.123456789", "0.00")
BEHIND = (
    "", " ", "N*m", "kg·m/s²", "m/s^2", "NL", "N·m/rad", "N.", "N,", "..", "/2", "*g", " g", "!",
    " W_l", " times", " % W_b", " BW", "% of body weight", " x 10", " -> N", "→ N", " down", "²",
    " ft in", " N", "\u00a0N", " ½ N", "º", "(N)", " N N", "kN/m/s",
)  # fmt: skip


def read_long(text: str, step: Step, symbols: frozenset[str]) -> Reading | str:
    """Return what the long road reads, or the code of what is the matter."""
    try:
        return read_entry(text, step, dict.fromkeys(symbols, Amount(math.nan)))
    except Unreadable as error:
        return error.reason.code


def number_lines() -> list[tuple[Question, Step]]:
    """Return one of the lines of all problems that are read alike, which ask for a number."""
    found = {}
    for problem in SHELF.problems.values():
        question = problem.question("1")
        for step in question.derivation.asked:
            if step.kind.is_number:
                found.setdefault(
                    (step.kind.name, step.unit, problem.names_length), (question, step)
                )
    return list(found.values())


def test_a_number_is_read_alike_by_both_roads() -> None:
    behind = (*BEHIND, *(spelling for unit in TABLE.values() for spelling in unit.spellings))
    read = 0
    for question, step in number_lines():
        symbols = StandingLines(question).names
        for rest in behind:
            for number in NUMBERS:
                text = f"{number}{rest}"
                short = read_usual(text, step, symbols)
                assert short is None or repr(short) == repr(read_long(text, step, symbols)), text
                read += short is not None
    assert read > 1000


def test_what_is_more_than_one_number_with_its_unit_takes_the_long_road() -> None:
    step = SHELF.problems["plain-wheelbarrow"].question("1").derivation.step("F_h")
    symbols = frozenset({"F_h"})
    assert step.unit == "N"
    assert read_usual("12.5 N", step, symbols) is not None
    for text in ("12.5", "0 N", "12,5 N", "F_h = 12.5 N", "12.5*2 N", "3 kg", "x"):
        assert read_usual(text, step, symbols) is None, text
