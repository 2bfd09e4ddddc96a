"""Lines that a student writes freely: which line of the working each is, and what is said of it."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from helpers.labelled_pages import PAGES, labelled_page
from helpers.material import CATALOGUE
from helpers.variety import VARIED
from leverstep.course.shelf import load_shelf
from leverstep.entry.tree import Reason
from leverstep.slips.explained import explained
from leverstep.slips.telling import tell
from leverstep.statics.posture import Find
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.page import line_name, missing, neighbour, on_page, to_find
from leverstep.working.reasons import reason_words
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from leverstep.working.writing import (
    formula,
    only_copies_a_given,
    quantity,
    substituted,
    value_text,
    worked_line,
)

SHELF = load_shelf()
PAIL = "elbow-full-pail"  # W_f 13.73 N, W_l 80.08 N, d_f 0.1807 m, M_sum −32.91 N·m, F_m 671.7 N
CURL = "elbow-tilted-forearm"  # numbers 42950: P_m 330.8 N, γ_m 61°, F_m 378.2 N
FREE = (Guidance.LANDMARKS, Guidance.BLANK)
NET_MOMENTS = [
    name
    for name, problem in sorted(SHELF.problems.items())
    if any(posture.find is Find.NET_MOMENT for posture in problem.postures)
]


def opened(guidance: Guidance = Guidance.BLANK, name: str = PAIL, seed: str = "a1") -> Working:
    return Working(SHELF.problems[name].question(seed), guidance=guidance)


def right_line(working: Working, step: Step) -> str:
    """Return a line as a student writes it freely, worked out: `W_l = 18.0 lb ÷ … = 80.08 N`."""
    question = working.question
    values = question.graph.values(question.numbers, {})
    if step.kind.is_equation:
        return formula(question, step)
    return worked_line(question, step, values)


def right_value(working: Working, step: Step) -> str:
    """Return the right line of a step as `KEY = value`, or its words."""
    question = working.question
    values = question.graph.values(question.numbers, {})
    if step.kind.is_equation:
        return formula(question, step)
    value = value_text(step, values[step.key])
    return f"{step.key} = {value}" if step.kind.is_number else value


def told(working: Working, verdict: Verdict) -> str:
    return tell(working, verdict, CATALOGUE)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("W_f = 13.73 N", "W_f"),
        ("13.73 N = W_f", "W_f"),
        ("Wf = 13.73 N", "W_f"),
        ("W_l = 18.0/2.205*9.81 N", "W_l"),
        ("W_l = 18.0 lb ÷ 2.205 × 9.81 N = 80.08 N", "W_l"),
        ("d_f = 0.682*26.5 cm", "d_f"),
        ("M_sum = -32.91 N·m", "M_sum"),
        ("third", "class"),
        ("class = third", "class"),
        ("Class 3", "class"),
        ("lever: third", "class"),
        ("third class lever", "class"),
        ("it is a third class lever", "class"),
        ("down", "R_dir"),
        ("direction: straight down", "R_dir"),
        ("R_dir = ↓", "R_dir"),
        ("F_m*d_m - W_l*d_l - W_f*d_f = 0", "equation"),
        ("W_l*d_l + W_f*d_f = F_m*d_m", "equation"),
        ("0 = -2.482 - 30.43 + F_m*0.049", "equation"),
        ("F_m*0.049 = 2.482 + 30.43", "equation"),
        ("F_m = 671.7 N", "F_m"),
        ("R_y = -577.9 N", "R_y"),
    ],
)
def test_a_line_that_holds_is_taken_as_the_line_it_is(text: str, key: str) -> None:
    working = opened()
    verdict = working.write(text)
    assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT), verdict
    assert list(working.lines) == [key]


@pytest.mark.parametrize(
    ("text", "key", "why"),
    [
        ("W_f = 1.40 N", "W_f", "kilograms left as newtons"),
        ("W_l = 18.0*9.81 N", "W_l", "not converted to kilograms"),
        ("first", "class", "taken as first class"),
        ("up", "R_dir", "the push of the segment on its support"),
        ("F_m*d_m + W_l*d_l - W_f*d_f = 0", "equation", "the sign of one moment (pail)"),
        ("F_m*d_m - W_l*d_l = 0", "equation", "forearm and hand"),
        ("0 = -2.482 - 30.43 + F_m*0.49", "equation", "0.49 stands where d_m belongs"),
    ],
)
def test_a_wrong_line_is_told_why(text: str, key: str, why: str) -> None:
    working = opened()
    verdict = working.write(text)
    assert (verdict.step, verdict.outcome) == (key, Outcome.WRONG), verdict
    assert why in told(working, verdict)
    assert working.attempts == {key: 1}


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("2 = 2", "this equation has no symbol in it"),
        ("F_m + 2 = 673.7", "where do its numbers come from?"),
        ("13.73 N", "begin with the symbol of the quantity"),
        ("0.14", "begin with the symbol of the quantity"),
        ("W_f", "begin with the symbol of the quantity"),
        ("hello", "hello is not a symbol or unit of this problem"),
        (" N", "N is a unit here, and needs a number before it"),
        ("W = 50 N", "W may be W_f or W_l here; write which one it is."),
        ("d = 0.9 m", "d may be d_f, d_l or d_m here; write which one it is."),
        ("m_l = 18 lb", "m_l is given, so it needs no line"),
        ("1 = 2 = F_m*3", "use one equals sign, unless"),
        ("", ""),
        ("-", ""),
        ("[red]x[/]", ""),
    ],
)
def test_what_is_no_line_of_the_problem_costs_nothing(text: str, why: str) -> None:
    working = opened()
    verdict = working.write(text)
    assert (verdict.step, verdict.outcome) == ("", Outcome.UNREAD), verdict
    assert why in told(working, verdict)
    assert "For example: F_m = 123.4 N" in told(working, verdict)
    assert (working.lines, working.attempts) == ({}, {})


def test_a_line_that_lacks_its_unit_is_named_and_costs_nothing() -> None:
    working = opened()
    verdict = working.write("W_f = 13.73")
    assert (verdict.step, verdict.outcome) == ("W_f", Outcome.UNREAD)
    assert "the unit is missing" in told(working, verdict)
    assert told(working, verdict).endswith("For example: W_f = 123.4 N")
    assert working.lines == {}


@pytest.mark.parametrize("guidance", FREE)
def test_a_formula_in_symbols_that_holds_is_right_and_no_line_yet(guidance: Guidance) -> None:
    working = opened(guidance)
    verdict = working.write("F_m = (W_f*d_f + W_l*d_l)/d_m")
    assert (verdict.step, verdict.outcome) == ("F_m", Outcome.RIGHT)
    assert "the formula is right" in reason_words(verdict.reason)
    assert working.lines == {}


def test_a_formula_in_symbols_that_does_not_hold_is_told_why() -> None:
    working = opened()
    verdict = working.write("F_m = (W_f*d_f + W_l*d_l)*d_m")
    assert (verdict.step, verdict.outcome) == ("F_m", Outcome.WRONG)
    assert "d_m multiplies where it should divide" in told(working, verdict)


def test_lines_that_rest_on_a_wrong_one_are_right_with_the_earlier_value() -> None:
    working = opened()
    assert working.write("W_f = 20.0 N").outcome is Outcome.WRONG
    verdict = working.write("M_f = -20.0*0.1807 N·m")
    assert (verdict.step, verdict.outcome) == ("M_f", Outcome.FOLLOWED)
    working.write("W_f = 13.73 N")
    assert working.lines["M_f"].verdict.outcome is Outcome.WRONG


def test_a_symbol_may_stand_for_its_own_line_before() -> None:
    working = opened()
    for text in ("W_f = 13.73 N", "d_f = 0.1807 m"):
        working.write(text)
    verdict = working.write("M_f = -W_f*d_f")
    assert (verdict.step, verdict.outcome) == ("M_f", Outcome.RIGHT)
    assert working.lines["M_f"].reading is not None


def test_a_bare_value_is_for_the_landmark_at_hand() -> None:
    working = opened(Guidance.LANDMARKS)
    values = ["-32.91 N·m", "671.7 N", "0.1397", "0.1289", "3", "-577.9 N", "-"]
    keys = ["M_sum", "F_m", "MA", "AR", "class", "R_y", "R_dir"]
    for value, key in zip(values, keys, strict=True):
        verdict = working.write(value)
        assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT), value
    assert working.complete


def test_the_sum_of_one_moment_is_its_line() -> None:
    working = opened(name="neck-head-upright")
    moment = next(step for step in working.steps if step.kind.name == "moment")
    verdict = working.write(right_value(working, moment).replace(moment.key, "M_sum"))
    assert (verdict.step, verdict.outcome) == (moment.key, Outcome.RIGHT)


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("written", [right_line, right_value])
@pytest.mark.parametrize("name", VARIED)
def test_all_lines_of_a_problem_written_freely_complete_it(name, written, guidance) -> None:
    working = opened(guidance, name, "7")
    for step in working.steps:
        verdict = working.write(written(working, step))
        assert (verdict.step, verdict.outcome) == (step.key, Outcome.RIGHT), verdict
    assert working.complete
    assert list(working.lines) == [step.key for step in working.steps]


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("name", VARIED)
def test_what_is_asked_for_is_enough(name: str, guidance: Guidance) -> None:
    working = opened(guidance, name, "7")
    for step in working.asked:
        assert not working.complete
        verdict = working.write(right_value(working, step))
        assert (verdict.step, verdict.outcome) == (step.key, Outcome.RIGHT), verdict
    assert working.complete
    assert missing(working) == {"Nothing is missing.": {}}


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("name", VARIED)
def test_following_what_is_missing_leads_to_the_end(name: str, guidance: Guidance) -> None:
    """Each line named as missing can be worked out from those before it, and from the givens."""
    working = opened(guidance, name, "7")
    question = working.question
    values = question.graph.values(question.numbers, {})
    while working.missing():
        step = working.missing()[0]
        used = [s for s in working.steps if f"{{{s.key}}}" in step.written]
        assert all(s.key in working.lines or only_copies_a_given(question, s) for s in used), (
            step.key
        )
        text = substituted(question, step, values) if step.written else right_value(working, step)
        named = f"{step.key} = {text}" if step.written else text
        assert working.write(named).outcome is Outcome.RIGHT, named
    assert working.complete


def test_what_is_missing_is_told_in_words() -> None:
    working = opened()
    for text in ("W_f = 13.73 N", "W_l = 80.08 N", "M_sum = -32.91 N·m"):
        working.write(text)
    told = missing(working)
    assert list(told) == ["Still to find", "Lines that lead to F_m"]
    assert list(told["Still to find"]) == ["F_m", "MA", "AR", "class", "R_y", "direction"]
    assert told["Still to find"]["F_m"] == "Force of the elbow flexors, in newtons"
    assert list(told["Lines that lead to F_m"]) == ["d_m"]


def test_what_is_left_is_missing_last() -> None:
    working = opened(Guidance.LANDMARKS)
    working.leave("M_sum")
    assert working.missing()[-1].key == "F_m"
    assert "M_sum" in [step.key for step in working.missing()]
    for step in working.asked:
        working.leave(step.key)
    assert working.missing()[-1].key == "M_sum"
    assert to_find(working) == "M_sum, F_m, MA, AR, class, R_y, direction"


def test_the_page_shows_what_is_written_left_or_asked_for() -> None:
    working = opened(Guidance.LANDMARKS)
    working.write("W_l = 80.08 N")
    names = [line_name(step) for step in on_page(working)]
    assert names == ["W_l", "M_sum", "F_m", "MA", "AR", "class", "R_y", "direction"]
    blank = opened()
    assert on_page(blank) == ()
    blank.write("third")
    blank.write("W_l = 80.08 N")
    blank.leave("F_m")
    assert [step.key for step in on_page(blank)] == ["W_l", "F_m", "class"]


def test_one_goes_from_line_to_line_of_the_page() -> None:
    working = opened()
    assert neighbour(working, "", -1) is None
    for text in ("third", "W_l = 80.08 N"):
        working.write(text)
    assert neighbour(working, "", -1) == "class"
    assert neighbour(working, "class", -1) == "W_l"
    assert neighbour(working, "W_l", -1) is None
    assert neighbour(working, "class", 1) == ""
    assert neighbour(working, "", 1) is None
    landmarks = opened(Guidance.LANDMARKS)
    landmarks.write("W_l = 80.08 N")
    landmarks.write("third")
    assert neighbour(landmarks, "", -1) == "W_l"
    assert neighbour(landmarks, "W_l", 1) == ""
    assert neighbour(landmarks, "", 1) == "class"


def test_a_line_chosen_by_name_is_entered_as_before() -> None:
    working = opened()
    working.write("W_l = 8.08 N")
    assert working.enter("W_l", "80.08 N").outcome is Outcome.RIGHT
    assert working.enter("W_l", "W_f = 80.08 N").outcome is Outcome.UNREAD


PAIL_LINES = load_shelf().problems["elbow-full-pail"]


@pytest.mark.parametrize(
    ("texts", "key", "outcome", "said"),
    [
        (["W_f is 16.19 N"], "W_f", Outcome.RIGHT, ""),
        (["W_f: 16.19 N"], "W_f", Outcome.RIGHT, ""),
        (["the reaction points down"], "R_dir", Outcome.RIGHT, ""),
        (["R_dir = third"], "", Outcome.UNREAD, ""),
        (["F_m + 2 = 440"], "", Outcome.UNREAD, "where do its numbers come from?"),
        (["W_f = 16.19 N", "W_l = 48.94 N", "W_f + W_l = 65.13"], "", Outcome.KEPT, ""),
        (["W_f + W_l = 65.13"], "", Outcome.KEPT, ""),
        (["W_f + W_l = 75.13"], "", Outcome.UNREAD, "neither the moment equation"),
        (["R_y + F_m = 65.13"], "", Outcome.KEPT, ""),
        (["R_y + F_m = 75.13"], "", Outcome.UNREAD, "F_m and R_y have no value yet"),
        (["g = 9.81"], "", Outcome.KEPT, ""),
        (["g = 9.18"], "", Outcome.UNREAD, "g needs no line of its own"),
        (["F_m*0.046 = 19.94"], "equation", Outcome.RIGHT, "F_m is 433.5 N"),
        (["1.65*9.81 = 16.19 N"], "W_f", Outcome.RIGHT, ""),
        (["16.19*0.1739 = 2.815 N m"], "M_f", Outcome.RIGHT, ""),
        (["weight of the pail = 48,94 N"], "W_l", Outcome.RIGHT, ""),
        (["R = 368.4 N down"], "R_y", Outcome.RIGHT, ""),
        (["m_l = 11/2.205 = 4.989 kg"], "", Outcome.KEPT, ""),
        (["F*4.6 = 16.19*17.39 + 48.94*35"], "equation", Outcome.RIGHT, "F_m is 43"),
        (["W_l = 20 N", "20*0.35 = 7.00 N m"], "M_l", Outcome.FOLLOWED, ""),
        (["F_m*0.046 = -19.94"], "equation", Outcome.WRONG, ""),
        (
            ["W_f = 20 N", "0 = -20*0.1739 - 48.94*0.35 + F_m*0.046"],
            "equation",
            Outcome.FOLLOWED,
            "F_m is 448.0 N",
        ),
        (
            ["R_y + 433.6 - 16.19 - 48.94 = 0", "R_y + 433.6 - 200 - 48.94 = 0"],
            "R_y",
            Outcome.WRONG,
            "",
        ),
        (["MA*433.6 = 65.13"], "MA", Outcome.RIGHT, "MA is 0.1502"),
        (["W_l = m_l/2.205*g"], "W_l", Outcome.RIGHT, ""),
    ],
)
def test_lines_are_taken_as_they_are_meant(
    texts: list[str], key: str, outcome: Outcome, said: str
) -> None:
    """Ways of writing a line that a student may choose, and what is none."""
    working = Working(PAIL_LINES.question("7"), guidance=Guidance.BLANK)
    verdict = [working.write(text) for text in texts][-1]
    assert (verdict.step, verdict.outcome) == (key, outcome)
    assert said in reason_words(verdict.reason)


@pytest.mark.parametrize(
    "text",
    ["F = 434 N", "F = 300 N", "R = 368 N down", "R = 100 N up", "weight of the pail = 48.9 N"],
)
def test_in_a_drill_own_words_are_refused_whether_right_or_wrong(text: str) -> None:
    """Else wrong ones would be tried for nothing, until a right one counts."""
    rules = Rules(attempts=3, marked=True)
    working = Working(PAIL_LINES.question("7"), guidance=Guidance.BLANK, rules=rules)
    assert working.write(text).outcome is Outcome.UNREAD
    assert working.lines == {}


def test_a_line_written_as_an_equation_is_judged_again_with_the_lines_before_it() -> None:
    """What an equation gave follows the values that it was worked out from."""
    working = Working(PAIL_LINES.question("7"), guidance=Guidance.BLANK)
    for text in ("W_f = 16.19 N", "R_y + 433.6 - W_f - 48.94 = 0"):
        assert working.write(text).outcome is Outcome.RIGHT
    working.write("W_f = 26.19 N")
    assert working.lines["R_y"].verdict.outcome is Outcome.FOLLOWED
    again = working.enter("R_y", "R_y+433.6 - W_f - 48.94 = 0")
    assert again.outcome is Outcome.FOLLOWED


@pytest.mark.parametrize(
    ("name", "text", "of"),
    [
        ("elbow-tilted-forearm", "0 = -2.11-15.87+F_m*0.03937*sin(64.5)", "F_m is 506.0 N"),
        ("elbow-tilted-forearm", "F_m*0.03937*0.9026=15.87+2.11", "F_m is 506.0 N"),
        ("knee-half-straight", "F_m*sin(20)*0.09398 = 15.69", "F_m is 488.1 N"),
        ("plain-seesaw", "F_h*5.9 = 367*5-171.3*3.65", "F_h is 205.0 N"),  # all lengths in feet
        ("plain-seesaw-where", "d_b*40 = 26.5*1.4+4.3*0.8", "d_b is 1.013 m"),  # g left out of all
    ],
)
def test_a_right_equation_is_right_however_it_is_put(name: str, text: str, of: str) -> None:
    """A slanting force itself may be the unknown, and what cancels may be left out."""
    working = opened(Guidance.BLANK, name, "7")
    verdict = working.write(text)
    assert verdict.outcome is Outcome.RIGHT
    assert of in reason_words(verdict.reason)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("ankle-calf-raise", "F_m*0.2 = 1150*0.1"),
        ("plain-wheelbarrow", "F_h*1 = 559.2*0.45+147.2*0.655"),
        ("plain-wheelbarrow", "F_h*1.3 = 57*10*0.45+15*10*0.655"),
        ("knee-curl-back", "F_m*0.04826=39.15*0.4064/2+35.59*0.3658"),
        ("plain-seesaw", "F_h*2=367*1.5-171*1.1"),
        ("hip-stick-in-hand", "F_m*1=900"),
        ("plain-seesaw-where", "1*d_b=1.3"),
        ("ankle-standing-lean-moment", "M_net*1 = -30"),
        ("ankle-standing-lean-moment", "M_net+0.5*598.4*0.1=0"),
    ],
)
def test_a_number_of_few_figures_makes_no_equation_right(name: str, text: str) -> None:
    """What a coarse number leaves open is no excuse for a slip."""
    assert opened(Guidance.BLANK, name, "7").write(text).outcome is Outcome.WRONG


@pytest.mark.parametrize("text", ["F_m = F_m", "W_l = W_l", "M_sum = M_sum"])
def test_a_symbol_is_not_told_by_itself(text: str) -> None:
    assert opened().write(text).outcome is Outcome.UNREAD


def written(path: Path) -> Counter[tuple[str, Outcome]]:
    """Return how often a line of a page that a reader found so came out so in practice."""
    page = labelled_page(path)
    working = Working(page.question, guidance=Guidance.BLANK)
    outcomes = [working.write(text).outcome for text in page.texts]
    return Counter((found, outcomes[n - 1]) for n, found in page.found.items())


def test_pages_of_students_are_judged_in_practice_too() -> None:
    """Wrong lines in own words are tries; no line that holds is called wrong for its own words.

    Two that follow are: they rest on a line that was not read.
    """
    came = sum((written(path) for path in PAGES.glob("*.json")), Counter())
    assert came["wrong", Outcome.WRONG] >= 120
    assert sum(count for (one, _), count in came.items() if one == "wrong") == 249
    assert came["right", Outcome.WRONG] == 0
    assert came["follows", Outcome.WRONG] <= 2
    assert came["right", Outcome.RIGHT] >= 1380
    assert came["remark", Outcome.WRONG] == 0


# ---- what people write at a line that is asked for


SEVEN = {"W_f": "16.19 N", "W_l": "48.94 N", "d_f": "0.1739 m", "d_l": "0.35 m", "d_m": "0.046 m"}


def asked(**lines: str) -> Working:
    """Return the pail with the lines before its moments written, and those that are given."""
    working = opened(Guidance.LINES, seed="7")
    for key, text in (SEVEN | lines).items():
        if working.has(key):
            working.enter(key, text)
    return working


@pytest.mark.parametrize("text", ["first", "Second", "second lever", "2 * second"])
def test_a_class_at_another_line_is_said_to_be_one(text: str) -> None:
    working = asked()
    verdict = working.enter("M_f", text)
    assert verdict.outcome is Outcome.UNREAD
    if text != "2 * second":  # that is a time
        assert "is a class of lever, and this line asks for something else" in told(
            working, verdict
        )
    assert working.attempts.get("M_f") is None


@pytest.mark.parametrize(
    "text",
    ["0.682*25.5 = 17.39 cm = 0.1739 m", "0.682*25.5 cm = 17.39 cm = 0.1739 m", "17.39 cm"],
)
def test_the_sides_of_a_line_may_each_be_in_a_unit_of_their_own(text: str) -> None:
    assert asked(d_f=text).lines["d_f"].verdict.outcome is Outcome.RIGHT


@pytest.mark.parametrize("text", ["0.682*25.5 = 18.39 cm = 0.1739 m", "25.5 = 17.39 cm = 0.1739 m"])
def test_sides_that_agree_in_no_unit_of_the_line_are_still_told(text: str) -> None:
    reason = opened(Guidance.LINES, seed="7").enter("d_f", text).reason
    assert reason is not None
    assert reason.code == "sides_differ"


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("19.94 = F_m*0.046", Outcome.RIGHT),
        ("F_m*0.046 = 19,94", Outcome.RIGHT),
        ("19.94 - 0.046*F_m = 0", Outcome.RIGHT),
        ("19.94 = F_m*0.056", Outcome.WRONG),
    ],
)
def test_an_equation_with_numbers_is_judged_at_the_line_of_its_unknown(
    text: str, outcome: Outcome
) -> None:
    assert asked(M_sum="-19.94 N m").enter("F_m", text).outcome is outcome


def test_a_sum_of_moments_called_zero_is_told_which_sum_is_meant() -> None:
    verdict = asked().enter("M_sum", "0 N m")
    assert verdict.outcome is Outcome.WRONG
    assert "add up the known ones" in reason_words(verdict.reason)


@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.BLANK])
@pytest.mark.parametrize("text", ["B·a − M·b' = 0", "0 = B*a - M*b'", "B*a = M*b'"])
def test_letters_that_nothing_tells_are_asked_for(text: str, guidance: Guidance) -> None:
    working = Working(SHELF.problems["ankle-calf-raise"].question("7"), guidance=guidance)
    is_led = guidance is Guidance.LINES
    verdict = working.enter_open(working.asked[0].key, text) if is_led else working.write(text)
    assert not working.lines
    assert "what B, a, M and b' stand for" in reason_words(verdict.reason)


@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.BLANK])
@pytest.mark.parametrize(
    "text",
    [
        "Moments about the elbow:", "Forces", "a) weight", "Weights [N]", "Part (c)", "== Arms ==",
        "Given: m = 1.65 kg, length 25,5 cm",
    ],
)  # fmt: skip
def test_a_heading_is_a_remark(text: str, guidance: Guidance) -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=guidance)
    is_led = guidance is Guidance.LINES
    verdict = working.enter_open("W_f", text) if is_led else working.write(text)
    assert verdict.is_remark


@pytest.mark.parametrize("text", ["weight =", "F_m:", "W_f", "moment 5", "5", "third"])
def test_what_may_be_a_line_is_no_heading(text: str) -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=Guidance.BLANK)
    assert not working.write(text).is_remark


def test_an_equation_in_symbols_stays_beside_one_in_numbers_with_its_result() -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=Guidance.BLANK)
    in_symbols = "F_m*d_m - W_f*d_f - W_l*d_l = 0"
    working.write(in_symbols)
    assert working.write("0,046 F = 19,94 => F = 433,5 N").step == "F_m"
    assert working.lines["equation"].text == in_symbols
    assert working.stands("F_m")


@pytest.mark.parametrize(
    "text",
    ["the forearm points to the right, so both weights turn it clockwise", "what do I do now"],
)
def test_words_that_claim_nothing_are_no_odd_signs(text: str) -> None:
    verdict = opened().write(text)
    assert verdict.outcome is Outcome.UNREAD
    assert reason_words(verdict.reason) == "there is nothing to check in this line."


def test_a_reaction_with_its_direction_stands_on_two_lines_that_differ() -> None:
    working = asked(F_m="433.5 N")
    working.write("R_y = 16.19 + 48.94 - 433.5 = -368.4 N (down)")
    said = {key: working.lines[key].text for key in ("R_y", "R_dir")}
    assert said["R_dir"] == "down"
    assert said["R_y"].endswith("(down)")


def test_what_a_page_takes_as_positive_is_said_once_and_kept_to() -> None:
    """Clockwise throughout is right; one moment the other way is a slip then."""
    working = opened(seed="7")
    first, second = working.write("M_f = +2.815 N m"), working.write("M_l = +17.13 N m")
    assert (first.outcome, second.outcome) == (Outcome.RIGHT, Outcome.RIGHT)
    assert "you take clockwise as positive" in told(working, first)
    assert "you take" not in told(working, second)
    assert working.write("M_sum = +14.32 N m").outcome is Outcome.WRONG


def test_a_moment_without_a_sign_is_right_as_a_size_and_its_sign_is_told() -> None:
    """Nobody is called wrong who writes sizes and says nothing of turning; the sum tells a mix."""
    working = opened(seed="7")
    size = working.write("M_f = 2.815 N m")
    assert size.outcome is Outcome.RIGHT
    assert "M_f is −2.815 N·m" in told(working, size)
    assert working.write("M_l = -17.13 N m").outcome is Outcome.RIGHT
    assert working.write("M_sum = 2.815 - 17.13 N m").outcome is Outcome.WRONG


def test_a_sense_that_is_named_in_words_is_answered() -> None:
    working = opened(seed="7")
    said = working.write("I count clockwise as positive")
    assert said.outcome is Outcome.UNREAD
    assert told(working, said) == "Noted: clockwise counts as positive from here on."
    assert working.write("M_l = 17.13 N m").outcome is Outcome.RIGHT


def test_in_a_drill_moments_are_counted_as_the_problem_says() -> None:
    """Marks must not hang on what is found from a page, so that the sign of the problem is due."""
    working = Working(SHELF.problems[PAIL].question("7"), Guidance.BLANK, Rules(marked=True))
    assert working.write("M_f = 2.815 N m").outcome is Outcome.WRONG


def test_a_given_that_goes_in_as_it_is_is_not_among_what_is_missing() -> None:
    """Who has written all else is led to the components, not to the force that is stated."""
    working = opened(Guidance.LANDMARKS, "knee-kneecap", "7")
    copies = [s.key for s in working.steps if only_copies_a_given(working.question, s)]
    assert copies
    found = {step.key for step in working.missing()}
    assert found
    assert not found & set(copies)


@pytest.mark.parametrize(
    "text",
    [
        "0*F_m = 0", "0FM=0", "F_m = F_m", "F_m*0.046 = F_m*0.046", "F_m - F_m = 0", "R_y = R_y",
        "2*F_m = F_m + F_m", "F_m/F_m = 1", "F_m*d_m/F_m = 0.046", "F_m*(0.046-0.046) = 0",
        "biceps*0 = 0", "R = R", "0.046 R = 0.046 R",
    ],
)  # fmt: skip
@pytest.mark.parametrize("guidance", Guidance)
def test_what_holds_whatever_a_force_is_finds_no_force(text: str, guidance: Guidance) -> None:
    """It would else tell the answer to who writes nothing."""
    working = opened(guidance, seed="7")
    verdict = working.enter_open("W_f", text) if guidance is Guidance.LINES else working.write(text)
    assert not verdict.settled
    assert working.to_find == working.asked
    assert "433" not in told(working, verdict)


@pytest.mark.parametrize("guidance", Guidance)
def test_a_formula_in_own_letters_tells_no_value_that_is_still_to_be_found(
    guidance: Guidance,
) -> None:
    working = opened(guidance, "neck-head-upright", "3")
    text = "F = W_h*d_h/d_m"
    here = working.steps[0].key
    lines = guidance is Guidance.LINES
    verdict = working.enter_open(here, text) if lines else working.write(text)
    assert "N" not in told(working, verdict).replace("Not", "").replace("Note", "")
    assert not working.done("F_m")


@pytest.mark.parametrize("text", ["F = W_h*d_h/d_m", r"W_h \cdot d_h / d_m"])
def test_nor_does_a_formula_at_the_line_that_is_asked_for(text: str) -> None:
    working = opened(Guidance.LINES, "neck-head-upright", "3")
    for step in working.steps:
        if step.key == "F_m":
            break
        working.leave(step.key)
    verdict = working.enter_open("F_m", text)
    assert (
        told(working, verdict)
        == "The formula is right; its line is done once the numbers are put in."
    )
    assert not working.done("F_m")


def test_in_a_drill_an_equation_does_not_work_out_its_unknown() -> None:
    """There the number is still to be written, and earns the marks."""
    text = "16.19*0.1739+48.94*0.35 = F_m*0.046"
    question = SHELF.problems[PAIL].question("7")
    practice, drill = (
        Working(question, Guidance.BLANK, Rules(marked=marked)) for marked in (False, True)
    )
    assert "F_m is 433.6 N" in told(practice, practice.write(text))
    assert told(drill, drill.write(text)) == "Right."


def test_after_a_right_equation_in_numbers_only_its_unknown_is_missing() -> None:
    """What stands in the equation needs no line any more."""
    working = opened(Guidance.BLANK, seed="7")
    working.write("16.19*0.1739+48.94*0.35 = F_m*0.046")
    assert [step.key for step in working.missing()] == ["F_m"]


def test_where_verdicts_are_hidden_what_is_missing_does_not_tell_a_right_equation() -> None:
    missing = []
    for arm in ("0.046", "0.056"):
        question = SHELF.problems[PAIL].question("7")
        working = Working(question, Guidance.BLANK, Rules(tells=False, hints=False, marked=True))
        assert working.write(f"16.19*0.1739+48.94*0.35 = F_m*{arm}").counts
        missing.append([step.key for step in working.missing()])
    right, wrong = missing
    assert right == wrong


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("0.682*25.5 = 17.39 cm = 0.17 m", Outcome.RIGHT),
        ("17.39 cm = 0.17 m", Outcome.RIGHT),
        ("17.0 cm = 0.17 m", Outcome.WRONG),
        ("17 cm = 0.17 m", Outcome.UNREAD),
    ],
)
def test_a_line_is_as_fine_as_the_finest_number_of_its_chain(text: str, outcome: Outcome) -> None:
    assert opened(Guidance.LINES, seed="7").enter("d_f", text).outcome is outcome


def test_a_component_set_equal_to_a_number_is_no_moment_equation() -> None:
    """It gives the force, and the moment equation that stands is left alone."""
    working = opened(Guidance.BLANK, CURL, "42950")
    working.write("P_f*d_f + P_l*d_l = P_m*d_m")
    verdict = working.write("F_m*sin 61 = 330.8")
    assert (verdict.step, verdict.outcome) == ("F_m", Outcome.RIGHT)
    assert working.lines["equation"].text == "P_f*d_f + P_l*d_l = P_m*d_m"
    moments = opened(Guidance.BLANK, CURL, "42950").write("F_m*0.04826*sin 61 = 15.96")
    assert moments.step == "equation"


@pytest.mark.parametrize("name", NET_MOMENTS)
def test_a_net_moment_in_the_other_sense_is_right_where_all_moments_are(name: str) -> None:
    """Also where there is one moment alone, which has no sum."""
    working = opened(Guidance.BLANK, name, "7")
    right = working.question.right
    for step in working.steps:
        if not step.kind.is_number:
            continue
        turned = -1 if step.unit == "N·m" else 1
        verdict = working.write(f"{step.key} = {quantity(turned * right[step.key], step.unit, 4)}")
        assert verdict.outcome is Outcome.RIGHT, verdict


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize(
    "text", ["R2 = Rx2 + Ry2", "R² = Rx² + Ry²", "R^2 = R_x^2 + R_y^2", "R = sqrt(Rx2 + Ry2)"]
)
def test_a_sum_of_squares_is_read_however_they_are_written(text: str, guidance: Guidance) -> None:
    working = opened(guidance, "elbow-how-much", "7")
    working.write("R_x = 81.9 N")
    working.write("R_y = -212.6 N")
    verdict = working.write(text)
    assert (verdict.step, verdict.outcome) == ("R", Outcome.RIGHT)
    assert verdict.text == text
    wrong = working.write("R2 = Rx2 + Wf2")
    assert wrong.outcome is not Outcome.RIGHT


def test_a_symbol_that_ends_in_2_is_no_square() -> None:
    working = opened(Guidance.BLANK, "elbow-how-much", "7")
    assert working.write("T2 + T1 = 30 N").reason == Reason.of("unknown_word", found="T2")


@pytest.mark.parametrize(
    ("name", "text", "key", "outcome"),
    [
        ("lumbar-near-and-far", "F_f/F_n = 2.125", "q_F", Outcome.RIGHT),
        ("lumbar-near-and-far", "F_f/F_n = 2,43", "q_F", Outcome.WRONG),
        ("lumbar-near-and-far", "F2/F1 = 2.125", "q_F", Outcome.RIGHT),
        ("lumbar-near-and-far", "F2/F1 = 2,43", "q_F", Outcome.WRONG),
        ("lumbar-near-and-far", "W_l/F_n = 4.6", "MA1", Outcome.WRONG),
        ("hip-joint-pressure", "R/W_b = 2.29", "n_R", Outcome.RIGHT),
        ("hip-joint-pressure", "R/W_b = 2,39", "n_R", Outcome.WRONG),
        ("hip-joint-pressure", "2,29 times body weight", "n_R", Outcome.RIGHT),
        ("ankle-tendon-stress", "F_m is 2.39 times body weight", "n_m", Outcome.WRONG),
        ("ankle-tendon-stress", "n = 2.25 BW", "n_m", Outcome.RIGHT),
        ("ankle-tendon-stress", "W_b = 2.25 times body weight", "", Outcome.UNREAD),
        ("elbow-full-pail", "2.25 times body weight", "", Outcome.UNREAD),
    ],
)
def test_a_ratio_is_its_line_be_it_right_or_wrong(
    name: str, text: str, key: str, outcome: Outcome
) -> None:
    """One symbol over another before a value is that ratio, in words too where that is usual."""
    verdict = Working(SHELF.problems[name].question("7")).write(text)
    assert (verdict.step, verdict.outcome) == (key, outcome)
    found = explained(verdict, CATALOGUE)
    assert not found.differences  # no arithmetic was typed


def test_no_sign_is_told_that_was_not_typed() -> None:
    """Two sides of a moment equation in numbers have the sense that their writer took."""
    working = Working(SHELF.problems["elbow-full-pail"].question("7"))
    for line in ("W_l = 48.94 N", "W_f = 16.19 N", "F_m = 433.6 N"):
        assert working.write(line).outcome is Outcome.RIGHT
    verdict = working.write("433.6*0.046 = 48.94*0.35 + 16.19*0.1739")
    assert verdict.outcome is Outcome.KEPT
    assert "−19.94" not in tell(working, verdict, CATALOGUE)


def test_a_number_that_does_not_say_of_what_is_asked_back_by_what_it_is_worked_out_from() -> None:
    """It costs nothing; in a drill nothing is told that way."""
    text = "mom.trunk = 400.4*0.0546 = 21.86 Nm"  # by the arm of the muscle
    working = opened(Guidance.BLANK, "lumbar-close-or-far", "218")
    verdict = working.write(text)
    assert verdict.outcome is Outcome.UNREAD
    assert verdict.reason is not None
    assert reason_words(verdict.reason).startswith("is this M_u, the moment of the upper body")
    marked = Working(working.question, Guidance.BLANK, Rules(marked=True))
    told = marked.write(text).reason
    assert told is not None
    assert told.code != "may_be"


@pytest.mark.parametrize(
    ("text", "guidance", "outcome"),
    [
        ("Ax = 90.5 N", Guidance.BLANK, Outcome.UNREAD),
        ("Ax = 90.5 N", Guidance.LINES, Outcome.WRONG),  # that line is asked for by this symbol
        ("Ax = -90.5 N", Guidance.BLANK, Outcome.RIGHT),
        ("Ax = 80.5 N", Guidance.BLANK, Outcome.WRONG),
    ],
)
def test_an_own_symbol_for_the_force_on_the_other_body_is_no_wrong_line(
    text: str, guidance: Guidance, outcome: Outcome
) -> None:
    """The floor pushes the foot back with 90.46 N: the shank pushes it forward, with 90.46 N."""
    working = opened(guidance, "ankle-then-knee", "3")
    verdict = working.write(text)
    assert verdict.outcome is outcome
    if outcome is Outcome.UNREAD:
        assert "give the force on the other body a symbol of its own" in told(working, verdict)
        assert not working.may_count("", text)


@pytest.mark.parametrize("guidance", [Guidance.BLANK, Guidance.LINES])
@pytest.mark.parametrize(
    ("text", "is_remark"),
    [
        ("mass of the body = 59,5 kg", True),
        ("m = 59,5 kg", True),
        ("length = 96.5 cm", True),
        ("m = 69,5 kg", False),
        ("W = 59,5 kg", False),
        ("weight = 59.5 kg", False),
    ],
)
def test_a_given_in_words_of_the_student_needs_no_line(
    text: str, is_remark: bool, guidance: Guidance
) -> None:
    working = opened(guidance, "body-rope-pulled", "3")
    verdict = working.write(text) if guidance.free else working.enter_open("W_p", text)
    assert (verdict.reason == Reason("nothing_to_check")) is is_remark
    assert verdict.outcome is Outcome.UNREAD
    assert not working.lines
