"""Arithmetic in the margin: it knows what is given and written, and tells nothing else."""

from __future__ import annotations

import math
import random

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.entry.amount import Amount
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.statics import kinds
from leverstep.statics.units import OF_LINES, ONE_LENGTH
from leverstep.working.reckoner import LAST, MOST_KEPT, MOST_REMEMBERED, Reckoned, Reckoner
from leverstep.working.rules import Rules
from leverstep.working.values_written import values_written
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"]
HIDDEN = Rules(tells=False, marked=True)


def beside(name: str = "elbow-full-pail", rules: Rules | None = None, **lines: str) -> Reckoner:
    working = Working(SHELF.problems[name].question("7"), rules=rules)
    for key, text in lines.items():
        assert working.enter(key, text).counts
    return Reckoner(working)


def told(reckoner: Reckoner, *typed: str) -> str:
    """Return what is said of the last of some lines."""
    return [reckoner.work_out(text).told for text in typed][-1]


# What it comes to.


@pytest.mark.parametrize(
    ("typed", "comes_to"),
    [
        ("0.27*0.682", "0.18414"),
        ("0,27 × 0,682", "0.18414"),
        ("W_l*d_l", "17.129 N·m"),
        ("-W_l*d_l", "-17.129 N·m"),
        ("Wl dl", "17.129 N·m"),
        ("W_l*d_l/d_l", "48.94 N"),
        ("m_f*g", "16.1865 N"),
        ("48.94 N * 35 cm", "17.129 N·m"),
        ("sqrt(3^2 + 4^2)", "5"),
        ("cos 60", "0.5"),
        ("sin 30°", "0.5"),
        ("acos 0.5", "60 deg"),
        ("90° - 41.5°", "48.5 deg"),
        ("14.3 in", "0.36322 m"),
        ("12.5 lb * g", "55.6218 N"),
    ],
)
def test_it_reckons_with_the_units_and_symbols_of_entries(typed: str, comes_to: str) -> None:
    reckoner = beside(W_l="48.94 N", d_l="0.350 m")
    assert told(reckoner, typed) == comes_to


def test_a_given_in_another_unit_is_said_to_be_taken_in_that_of_lines() -> None:
    reckoner = beside()
    assert told(reckoner, "m_l/2") == "2.49476 kg, with m_l as 4.98952 kg"
    assert told(reckoner, "m_f/2") == "0.825 kg"


def test_results_are_kept_under_names_and_the_last_one_of_itself() -> None:
    reckoner = beside()
    assert told(reckoner, "a = 0.27*0.682") == "a = 0.18414"
    assert told(reckoner, "a*2") == "0.36828"
    assert told(reckoner, f"{LAST}/2") == "0.18414"
    assert told(reckoner, "a = 3 N", "a*2 m") == "6 N·m"
    assert told(reckoner, "θ = 20°", "theta*2") == "40 deg"
    assert [one for one in reckoner.has_value if one.startswith(("a ", "θ", LAST))] == [
        "ans 40 deg", "a 3 N", "θ 20 deg",
    ]  # fmt: skip


def test_a_result_can_be_entered_as_it_is() -> None:
    reckoner = beside(W_l="48.94 N", d_l="0.350 m")
    working = reckoner._working
    result = reckoner.work_out("-W_l*d_l").result
    assert working.enter("M_l", result).settled
    assert reckoner.work_out("0.1*2").result == "0.200", "no fewer figures than an entry needs"
    assert reckoner.last == "0.200"
    assert beside().last == ""


def test_what_a_symbol_comes_to_follows_the_lines() -> None:
    working = Working(PAIL.question("7"))
    reckoner = Reckoner(working)
    assert told(reckoner, "W_l") == "Not worked out: W_l has no value yet."
    working.enter("W_l", "50.0 N")
    assert told(reckoner, "W_l") == "50 N"
    working.enter("W_l", "48.94 N")
    assert told(reckoner, "W_l") == "48.94 N"


# What it does not tell.


@pytest.mark.parametrize("name", SHELF.problems)
def test_what_is_to_be_found_has_no_value_before_it_is_written(name: str) -> None:
    question = SHELF.problems[name].question("3")
    working = Working(question)
    reckoner = Reckoner(working)
    givens = {given.sign for given in question.givens}
    for step in question.derivation.asked:
        if step.kind.is_number:
            assert told(reckoner, step.key) == told(reckoner, f"2*{step.key}")
            assert reckoner.work_out(step.key).result == "", step.key
    known = {key for key, one in values_written(working).items() if not math.isnan(one.value)}
    carried = {s.key for s in question.derivation.steps if not s.asked and s.kind is kinds.FORCE}
    assert known <= givens | carried | {"g", ONE_LENGTH}


def test_a_distance_that_needs_no_line_is_known_and_a_sum_that_needs_none_is_not() -> None:
    seesaw, crowbar = beside("plain-seesaw-where"), beside("plain-crowbar")
    assert told(seesaw, "d_c") == "1.4 m"
    assert told(crowbar, "M_sum") == "Not worked out: M_sum has no value yet."


def test_values_are_those_that_the_student_wrote_right_or_wrong() -> None:
    """Line after line: a wrong value stays what it is, and nothing after it is known."""
    question = PAIL.question("7")
    working = Working(question)
    reckoner = Reckoner(working)
    for step in question.derivation.asked:
        if not step.kind.is_number:
            working.enter(step.key, worked_line(question, step, question.right))
            continue
        assert reckoner.work_out(step.key).result == ""
        wrong = 1.5 * question.right[step.key]
        assert working.enter(step.key, f"{wrong:.6g} {step.unit}").counts
        known = values_written(working)[step.key]
        assert math.isclose(known.value, wrong, rel_tol=1e-5)
        assert known.dimension == OF_LINES[step.unit]


def test_where_verdicts_wait_an_equation_is_not_solved_for_anybody() -> None:
    equation = "0 = -8.2 + 0.042*F_m"
    assert told(beside(rules=HIDDEN, F_m=equation), "F_m").endswith("F_m has no value yet.")
    assert told(beside(rules=HIDDEN, F_m="8.2/0.042 N"), "F_m") == "195.238 N"


def test_in_practice_an_equation_gives_a_value_to_the_line_it_stands_on_alone() -> None:
    """That of moments is a line of its own, after which its unknown is still asked for."""
    question = PAIL.question("7")
    working = Working(question)
    right = question.right
    for step in question.derivation.asked:
        if step.kind.name == "effort":
            assert working.write(f"0 = {right['M_sum']:.5g} + 0.046*F_m").settled
            assert told(Reckoner(working), "F_m").endswith("F_m has no value yet.")
        if step.kind.name == "reaction_y":
            weights = right["W_f"] + right["W_l"]
            assert working.write(f"0 = R_y + {right['F_m']:.5g} - {weights:.5g}").settled
            assert told(Reckoner(working), "R_y").startswith("-368")
            return
        working.enter(step.key, worked_line(question, step, right))
    raise AssertionError("there is a reaction")


def test_nothing_is_entered_and_no_line_changes_by_it() -> None:
    reckoner = beside(W_l="48.94 N")
    working = reckoner._working
    before = dict(working.lines), dict(working.attempts), working.judgings
    for typed in ("W_l = 3 N", "W_l*2", "F_m = 12 N", "a = W_l"):
        reckoner.work_out(typed)
    assert (dict(working.lines), dict(working.attempts), working.judgings) == before


# What it can't work out.


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("d_l", "d_l has no value yet."),
        (LAST, "ans has no value yet."),
        ("W_l + 2 m", "the terms of a sum must have the same unit: write it after each number."),
        ("1/0", "what you typed has no finite value."),
        ("sqrt(-4)", "what you typed has no finite value."),
        ("", "nothing was typed."),
        ("pail*2", "pail is not a symbol or unit of this problem."),
        ("W_l = 3 N", "W_l means something else already; keep the result as a, b or c."),
        ("m = 3", "m means something else already; keep the result as a, b or c."),
        ("x = 3", "x means something else already; keep the result as a, b or c."),
        ("cos = 3", "cos means something else already; keep the result as a, b or c."),
        ("wl = 3", "wl means something else already; keep the result as a, b or c."),
        ("ans = 3", "ans means something else already; keep the result as a, b or c."),
        ("W_l*d_l = 17 N m", "an equals sign keeps a result here, as in a = 2*3."),
        ("a = b = 3", "an equals sign keeps a result here, as in a = 2*3."),
        ("a =", "nothing was typed."),
        ("(1+2", "a closing bracket is missing."),
        ("2,205 lb", "is this 2205 or 2.205?"),
        ("9" * 60, "a number may have at most 25 digits."),
        ("1+" * 80, f"a line may have at most {LONGEST_ENTRY} characters."),
        ("(" * 40, "the brackets are nested too deeply."),
        ("2^30^2", "a power of a power can't be read."),
    ],
)  # fmt: skip
def test_what_is_the_matter_is_said_in_one_sentence(typed: str, why: str) -> None:
    reckoned = beside(W_l="48.94 N").work_out(typed)
    assert reckoned.told.startswith("Not worked out")
    assert reckoned.told.endswith(f": {why}")
    assert reckoned.result == ""


def test_the_place_is_told_where_the_sentence_names_nothing() -> None:
    assert told(beside(), "2*3)") == "Not worked out: ) was not expected here."
    assert told(beside(), "a = 2 ; 3").startswith('Not worked out (at character 7, ";")')


def test_a_number_of_results_is_kept_and_the_names_may_be_used_again() -> None:
    reckoner = beside()
    for number in range(MOST_KEPT):
        assert reckoner.work_out(f"r{number} = {number}").result
    assert "are kept already" in told(reckoner, "one_more = 3")
    assert told(reckoner, "r0 = 5") == "r0 = 5"
    for number in range(2 * MOST_REMEMBERED):
        reckoner.work_out(str(number))
    assert len(reckoner.done) == MOST_REMEMBERED
    assert reckoner.done[-1] == Reckoned(
        str(2 * MOST_REMEMBERED - 1), str(2 * MOST_REMEMBERED - 1), "99.0"
    )


def test_whatever_is_typed_is_answered() -> None:
    draw = random.Random(11)
    pieces = [
        *"0123456789.,+-*/^()=|°'\" \t\n\x1b\x00_aWlde²½√∑漢", "W_l", "d_l", "sqrt", "cos",
        "__import__", "1e30", "ans", "N", "m", "lb", "θ", "[bold]", "%s", "{}",
    ]  # fmt: skip
    reckoner = beside(W_l="48.94 N")
    for _ in range(3000):
        typed = "".join(draw.choice(pieces) for _ in range(draw.randint(0, 12)))
        reckoned = reckoner.work_out(typed)
        assert reckoned.told
        assert "Traceback" not in reckoned.told
        assert bool(reckoned.result) != reckoned.told.startswith("Not worked out")


def test_no_value_means_none_for_every_symbol() -> None:
    known = values_written(Working(PAIL.question("7")))
    assert set(known) >= {"W_l", "d_l", "F_m", "g", "m_l"}
    assert all(isinstance(one, Amount) for one in known.values())
