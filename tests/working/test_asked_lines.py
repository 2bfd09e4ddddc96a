"""What is typed where a line is asked for, and is another: taken as that, and nothing else is."""

from __future__ import annotations

import itertools

import pytest
from helpers.material import CATALOGUE
from leverstep.bench.bench import Bench
from leverstep.bench.record_lines import EntryLine, RecordLine, WrittenLine
from leverstep.course.shelf import load_shelf
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.reasons import reason_words
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

SHELF = load_shelf()
PAIL = "elbow-full-pail"  # W_f 16.19 N, W_l 48.94 N, d_f 0.1739 m, M_sum −19.94 N·m, F_m 433.5 N
NAMES = [
    PAIL,
    "elbow-tilted-forearm",
    "knee-half-straight",
    "plain-seesaw",
    "plain-wheelbarrow",
    "hip-stick-in-hand",
    "ankle-standing-lean-moment",
    "ankle-calf-raise",
    "neck-head-upright",
    "plain-seesaw-where",
]
EACH = Rules(marked=True)
COUNTED = Rules(attempts=2, marked=True)
HIDDEN = Rules(attempts=3, tells=False, hints=False, marked=True)


class Kept(Bench):
    """A bench with the lines of its record."""

    def __init__(self, name: str = PAIL, rules: Rules | None = None) -> None:
        self.lines: list[RecordLine] = []
        question = SHELF.problems[name].question("7")
        super().__init__(question, CATALOGUE, self.lines.append, rules=rules)


def named(bench: Bench, step: Step) -> str:
    """Return the right line of a step, worked out, with its symbol or word before it."""
    text = worked_line(bench.question, step, bench.question.right)
    return text if step.kind.words is None else f"{step.kind.words}: {text}"


@pytest.mark.parametrize(
    ("name", "rules"),
    [
        *itertools.product(NAMES, (None, COUNTED, HIDDEN)),
        *itertools.product(NAMES[:2], (EACH,)),  # counted ones go the same way, and count besides
    ],
)
def test_a_right_line_is_taken_as_what_it_is_whatever_is_asked_for(name, rules) -> None:
    steps = Kept(name).working.steps
    for asked in steps:
        bench = Kept(name, rules)
        others = [step for step in steps if step is not asked]
        for step in others:
            verdict = bench.enter(asked.key, named(bench, step))
            assert (verdict.step, verdict.settled) == (step.key, True), (asked.key, verdict)
        assert list(bench.working.lines) == [step.key for step in others]
        assert set(bench.working.attempts.values()) == {1}
        assert bench.lines == [
            WrittenLine(step=asked.key, text=named(bench, step)) for step in others
        ]


@pytest.mark.parametrize("name", NAMES)
def test_the_right_line_of_what_is_asked_for_is_an_entry_there(name: str) -> None:
    bench = Kept(name)
    for step in bench.working.steps:
        text = named(bench, step)
        assert bench.enter(step.key, text).outcome is Outcome.RIGHT
        kind = WrittenLine if step.kind.answer is kinds.AnswerForm.WORD else EntryLine
        assert bench.lines[-1] == kind(step=step.key, text=text)


MIXED = [
    ("W_f", "W_l = 20 N"),
    ("W_f", "20*0.35 = 7.00 N m of the pail"),
    ("W_f", "weight of the forearm = 1.65*9.81 = 16.19 N"),
    ("W_f", "M_l = -20*0.35 = -7.00 N m"),
    ("W_l", "F_m*0.046 = 19.94"),
    ("W_l", "third"),
    ("W_l", "pail = 48.94 N"),
    ("L", "B = 48.94 N"),
    ("L", "rubbish"),
    ("L", "M_l = 99.9 N m"),
]


@pytest.mark.parametrize("rules", [None, EACH, COUNTED, HIDDEN], ids=["", "each", "2", "hidden"])
def test_a_record_of_such_lines_gives_the_same_again(rules: Rules | None) -> None:
    bench = Kept(rules=rules)
    verdicts = [bench.enter(key, text) for key, text in MIXED]
    again = Kept(rules=rules)
    assert [again.replay(line) for line in bench.lines] == verdicts
    assert again.working.lines == bench.working.lines
    assert again.working.attempts == bench.working.attempts
    assert len({verdict.outcome for verdict in verdicts}) > 1


@pytest.mark.parametrize("text", ["W_l = 48.94 N", "W_l = 99 N", "F_m*0.046 = 19.94", "third"])
def test_what_older_records_hold_is_judged_as_it_was(text: str) -> None:
    """An entry at a line was of that line alone."""
    verdict = Kept().replay(EntryLine(step="W_f", text=text))
    assert verdict is not None
    assert (verdict.step, verdict.outcome) == ("W_f", Outcome.UNREAD)


def test_another_line_is_no_entry_at_a_line() -> None:
    verdict = Kept().working.enter("W_l", "F_m = 55.2 N")
    assert verdict.outcome is Outcome.UNREAD
    assert reason_words(verdict.reason) == "F_m is another line; this one is W_l."


@pytest.mark.parametrize("rules", [None, EACH, COUNTED, HIDDEN], ids=["", "each", "2", "hidden"])
@pytest.mark.parametrize(
    "text", ["48.94 N", "11/2.205*9.81 = 48.94 N", "48.94 furlongs", "48.94", "rubbish"]
)
def test_a_bare_value_is_always_for_what_is_asked(text: str, rules: Rules | None) -> None:
    bench = Kept(rules=rules)
    assert bench.enter("W_f", text).step == "W_f"
    assert bench.lines == [EntryLine(step="W_f", text=text)]


@pytest.mark.parametrize("rules", [None, EACH, COUNTED, HIDDEN], ids=["", "each", "2", "hidden"])
def test_a_wrong_line_that_names_itself_is_a_try_of_that_line(rules: Rules | None) -> None:
    bench = Kept(rules=rules)
    verdict = bench.enter("W_f", "W_l = 107.91 N")
    assert (verdict.step, verdict.outcome) == ("W_l", Outcome.WRONG)
    assert bench.working.attempts == {"W_l": 1}
    assert bench.explained(verdict).explanations


def test_a_slip_of_the_pen_in_the_name_costs_nothing() -> None:
    """The value is right at the line that is asked for, or the line named stands right."""
    for rules in (None, EACH, COUNTED):
        bench = Kept(rules=rules)
        for text in ("W_l = 16.19 N", "pail = 16.19 N"):
            assert bench.enter("W_f", text).outcome is Outcome.UNREAD
        assert bench.working.attempts == {}
        bench.enter("W_l", "48.94 N")
        for text in ("W_l = 99 N", "weight of the pail = 99 N"):
            assert bench.enter("W_f", text).outcome is Outcome.UNREAD
        assert bench.working.lines["W_l"].verdict.outcome is Outcome.RIGHT


@pytest.mark.parametrize("rules", [EACH, COUNTED, HIDDEN], ids=["each", "2", "hidden"])
@pytest.mark.parametrize(
    "texts",
    [
        ("third", "first"),
        ("down", "up"),
        ("weight of the pail = 48.94 N", "weight of the pail = 58.94 N"),
        ("W_l + W_f = 65.13", "W_l + W_f = 75.13"),
    ],
)
def test_in_a_drill_only_its_form_makes_another_line(texts, rules) -> None:
    """Else wrong ones would be tried for nothing, until a right one counts."""
    for text in texts:
        bench = Kept(rules=rules)
        verdict = bench.enter("d_f", text)
        assert (verdict.step, verdict.outcome) == ("d_f", Outcome.UNREAD)
        assert bench.working.lines == {}


@pytest.mark.parametrize("rules", [None, EACH, COUNTED, HIDDEN], ids=["", "each", "2", "hidden"])
@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("F_m*0.046 = 19.94", "F_m*0.056 = 19.94"),
        ("0 = -16.19*0.1739 - 17.13 + F_m*0.046", "0 = -16.19*0.1739 + 17.13 + F_m*0.046"),
        ("F_m*d_m = W_f*d_f + W_l*d_l", "F_m*d_m = W_f*d_f - W_l*d_l"),
    ],
)
def test_an_equation_of_what_is_to_be_found_is_its_line(right, wrong, rules) -> None:
    """Whatever is asked for, and whether it is right or not."""
    for text, outcome in ((right, Outcome.RIGHT), (wrong, Outcome.WRONG)):
        bench = Kept(rules=rules)
        verdict = bench.enter("W_f", text)
        assert (verdict.step, verdict.outcome) == ("equation", outcome)
        assert bench.working.attempts == {"equation": 1}


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("weight of the pail = 48,94 N", "W_l"),
        ("pail = 11/2.205*9.81 = 48.94 N", "W_l"),
        ("the reaction points down", "R_dir"),
        ("F*4.6 = 16.19*17.39 + 48.94*35", "equation"),
        ("weight of the forearm = 16.19 N", "W_f"),
    ],
)
def test_in_practice_own_words_are_taken_where_a_line_is_asked_for(text: str, key: str) -> None:
    verdict = Kept().enter("W_f", text)
    assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)


@pytest.mark.parametrize(
    "text", ["approx 48.94 N", "about 1.65*9.81 = 16.19 N", "F_m = 2*equation", "[link=x]y[/link]"]
)
def test_words_that_do_not_say_of_what_leave_a_line_unread(text: str) -> None:
    bench = Kept()
    assert bench.enter("d_l" if bench.working.has("d_l") else "L", text).outcome is Outcome.UNREAD
    assert bench.working.lines == {}


def test_own_words_rest_on_what_was_entered_where_it_was_asked_for() -> None:
    bench = Kept()
    assert bench.enter("W_f", "20.0 N").outcome is Outcome.WRONG
    verdict = bench.enter("W_l", "moment of the forearm = -20*0.1739 = -3.478 N m")
    assert (verdict.step, verdict.outcome) == ("M_f", Outcome.FOLLOWED)


def test_a_line_that_was_skipped_stays_so_until_it_is_right() -> None:
    working = Kept().working
    working.leave("W_f")
    current = working.current()
    assert current is not None
    assert working.enter_open(current.key, "W_f = 55 N").outcome is Outcome.WRONG
    assert working.current() is current
    assert working.enter_open(current.key, "W_f = 16.19 N").outcome is Outcome.RIGHT
    assert working.left == set()


# ---- wrong lines in the student's own words


def freely(*texts: str, name: str = PAIL, rules: Rules | None = None) -> Bench:
    """Return a bench at which lines were written freely."""
    question = SHELF.problems[name].question("7")
    bench = Bench(question, CATALOGUE, lambda _: None, Guidance.BLANK, rules=rules)
    for text in texts:
        bench.write(text)
    return bench


@pytest.mark.parametrize(
    ("text", "key", "slip"),
    [
        ("weight of the pail = 11*9.81 = 107.9 N", "W_l", "not converted to kilograms"),
        ("pail = 107.9 N", "W_l", "not converted to kilograms"),
        ("F = 372.4 N", "F_m", "forearm and hand"),
        ("the elbow flexors pull with 48.94*0.35/0.046 = 372.4 N", "F_m", "forearm and hand"),
        ("it is a first class lever", "class", "taken as first class"),
    ],
)
def test_a_wrong_line_in_own_words_is_a_try_with_its_slip(text: str, key: str, slip: str) -> None:
    bench = freely()
    verdict = bench.write(text)
    assert (verdict.step, verdict.outcome) == (key, Outcome.WRONG)
    assert slip in bench.tell(verdict)
    assert bench.working.attempts == {key: 1}
    assert bench.hint_line() == key
    assert bench.hint(key)


@pytest.mark.parametrize(
    "text",
    ["biceps = 349 N", "F_m = 2*equation", "W_f + W_l = 75.13", "g = 9.18"],
)
def test_a_line_that_may_be_of_something_else_stays_unread(text: str) -> None:
    bench = freely()
    assert bench.write(text).outcome is Outcome.UNREAD
    assert bench.working.attempts == {}


def test_what_a_page_calls_wrong_may_follow_from_a_value_that_stands() -> None:
    bench = freely("M_sum = -29.94 N m")
    verdict = bench.write("elbow flexors pull with 29.94/0.046 = 650.9 N")
    assert (verdict.step, verdict.outcome) == ("F_m", Outcome.FOLLOWED)
    bench.write("M_sum = -19.94 N m")
    assert bench.working.lines["F_m"].verdict.outcome is Outcome.WRONG


def test_own_words_are_told_in_the_words_of_the_problem() -> None:
    bench = freely()
    told = [bench.tell(bench.write(text)) for text in ("B = 48.94 N", "1.65*9.81 = 16.19 N")]
    assert told == [
        "Right. B is taken as W_l, the weight of the pail.",
        "Right. Taken as W_f, the weight of the forearm and hand.",
    ]
    for text in ("W_f = 16.187 N", "W_{f} = 16.19 N", "forearm: W_f = 16.188 N"):
        assert bench.tell(bench.write(text)) == "Right."
    wrong = bench.tell(bench.write("pail = 107.9 N"))
    assert wrong.endswith("pail is taken as W_l, the weight of the pail.")


def test_hidden_verdicts_ask_no_page() -> None:
    working = Working(SHELF.problems[PAIL].question("7"), Guidance.BLANK, HIDDEN)
    for text in ("pail = 107.9 N", "pail = 48.94 N"):
        assert working.write(text).outcome is Outcome.UNREAD
    assert working.lines == {}


CURL = "elbow-tilted-forearm"  # numbers 42950: W_f 15.57 N, M_l −13.64 N·m, MA 0.1706, R_y −311.6 N


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("W_f", "3,5/2,205 = 1,587 kg × 9,81 = 15,57 N"),
        ("M_l", "13.65 N m clockwise"),
        ("R_y", "311.6 N down"),
        ("R_y", "R_y = 311.6 N downwards"),
        ("class", "3rd class because the muscle pulls between the elbow and the weight"),
        ("MA", "(15.57+48.9)/378 = 0.17"),
        ("R_dir", "it points down and to the right"),
        ("F_my", "378 cos 6 = 376 N up"),
        ("phi_R", "tan^-1(311.5/39.5) = 82.8°"),
        ("M_sum", "2.32 + 13.65 = 15.97 Nm clockwise"),
        ("P_m", "about 331 N"),
        ("F_m", "so F_m is 378 N"),
        ("W_l", "= 48.94 N"),
        ("MA", "17.06 %"),
    ],
)
def test_the_line_that_is_asked_for_may_be_in_own_words(key: str, text: str) -> None:
    """It is that line, and so is it where the record is taken again."""
    question = SHELF.problems[CURL].question("42950")
    working = Working(question)
    for step in working.steps:
        if step.key == key:
            break
        working.enter(step.key, worked_line(question, step, question.right))
    verdict = working.enter_open(key, text)
    assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)
    assert working.stands(key)


@pytest.mark.parametrize("text", ["15.57", "15.6/2.2*2.2 = 15.57", "hello", "17 %", "?"])
def test_at_the_line_that_is_asked_for_a_unit_is_due(text: str) -> None:
    working = Working(SHELF.problems[CURL].question("42950"))
    assert working.enter_open("W_f", text).outcome is Outcome.UNREAD
    assert not working.lines


def test_the_size_of_a_reaction_may_be_said_with_its_direction() -> None:
    """Both are found by that, as on a page."""
    question = SHELF.problems["elbow-full-pail"].question("7")
    working = Working(question)
    for step in working.steps:
        if step.key == "R_y":
            break
        working.enter(step.key, worked_line(question, step, question.right))
    verdict = working.enter_open("R_y", "368.5 N downwards")
    assert (verdict.step, verdict.outcome) == ("R_y", Outcome.RIGHT)
    assert working.complete


@pytest.mark.parametrize(("guidance", "key"), [(Guidance.LANDMARKS, "R_a"), (Guidance.BLANK, "")])
def test_a_bare_value_that_stands_already_is_not_taken_as_that_line_again(
    guidance: Guidance, key: str
) -> None:
    """W_sa is 21.94 N there; what is asked for next is R_a, of 304.5 N."""
    working = Working(SHELF.problems["knee-muddy-boot"].question("7"), guidance)
    for text in ("M_sum = -11.7 N·m", "F_m = 359.4 N", "W_sa = 21.9 N"):
        assert working.write(text).outcome is Outcome.RIGHT
    verdict = working.write("22 N")
    assert verdict.step == key
    assert verdict.outcome is (Outcome.WRONG if key else Outcome.UNREAD)
    assert working.lines["W_sa"].text == "W_sa = 21.9 N"


@pytest.mark.parametrize(
    ("problem", "key", "wrong", "again"),
    [
        ("elbow-pail-of-water", "W_f", "206 N", "21,000*9,810 N"),
        ("elbow-pail-of-water", "W_f", "50,5 N", "25,125+25,375 N"),
        ("elbow-pail-of-water", "W_l", "21,0 N", "10,500*2,000 N"),
    ],
)
def test_a_wrong_value_does_not_follow_from_itself(
    problem: str, key: str, wrong: str, again: str
) -> None:
    working = Working(SHELF.problems[problem].question("7"))
    assert working.enter_open(key, wrong).outcome is Outcome.WRONG
    assert not working.enter_open(key, again).settled


def test_a_weight_by_a_letter_of_its_mass_is_the_weight_that_is_asked_for() -> None:
    working = Working(SHELF.problems["elbow-pail-of-water"].question("7"))
    verdict = working.enter_open("W_f", "m*g = 1,25*9,81 = 12,26 N")
    assert (verdict.step, verdict.outcome) == ("W_f", Outcome.RIGHT)


@pytest.mark.parametrize("rules", [Rules(), EACH])
def test_an_equation_that_holds_is_no_wrong_value_of_the_line_that_is_asked_for(
    rules: Rules,
) -> None:
    working = Working(SHELF.problems[PAIL].question("7"), rules=rules)
    for step in working.steps:
        if step.key == "MA":
            break
        working.enter(step.key, worked_line(working.question, step, working.question.right))
    assert working.is_open("MA", "F_m*0.046 = 19.94")
    assert working.enter_open("MA", "F_m*0.046 = 19.94").step == "equation"
    assert "MA" not in working.lines
    assert not working.is_open("MA", "W_l/F_m = 0.113")  # a load is missing


def test_an_equation_needs_its_unit_no_more_where_its_line_is_asked_for() -> None:
    working = Working(SHELF.problems[PAIL].question("7"))
    for step in working.steps:
        if step.key == "R_y":
            break
        working.enter(step.key, worked_line(working.question, step, working.question.right))
    assert working.enter_open("R_y", "R_y = -368,4").outcome is Outcome.UNREAD
    verdict = working.enter_open("R_y", "R_y + 433,5 = 65,13")
    assert (verdict.step, verdict.outcome) == ("R_y", Outcome.RIGHT)


@pytest.mark.parametrize(
    ("key", "text", "taken"),
    [
        ("W_u", "0.84 BW", "W_u"),
        ("W_u", "W_u = 0.84 × BW", "W_u"),
        ("R_y", "R_y = 2,27 BW", "R_y"),
        ("n_R", "{n_R:.3g} % BW", "n_R"),
        ("R_y", "R = {n_R:.3g} % of BW", "n_R"),
    ],
)
def test_the_weight_of_the_body_may_be_written_bw(key: str, text: str, taken: str) -> None:
    working = Working(SHELF.problems["hip-joint-pressure"].question("11"))
    for step in working.steps:
        if step.key == key:
            break
        working.enter(step.key, worked_line(working.question, step, working.question.right))
    verdict = working.enter_open(key, text.format(**working.question.right))
    assert (verdict.step, verdict.outcome) == (taken, Outcome.RIGHT)


@pytest.mark.parametrize(
    ("name", "key", "text"),
    [
        ("ankle-tendon-stress", "n_m", "F_m / W_b"),
        ("ankle-tendon-stress", "n_m", "n_m = F_m ÷ W_b"),
        ("ankle-tendon-stress", "n_m", "{n_m:.4g} times"),
        ("hip-joint-pressure", "n_R", "R / W_b * 100 %"),
        ("jaw-front-then-back", "q_F", "{q_F:.4g} times as hard"),
        ("jaw-front-then-back", "q_F", "F_c / F_b"),
    ],
)
def test_a_multiple_may_be_a_quotient_or_be_said(name: str, key: str, text: str) -> None:
    """The weight below a line is no word behind a number, and times is no unit."""
    working = Working(SHELF.problems[name].question("3"))
    for step in working.steps:
        if step.key == key:
            break
        working.enter(step.key, worked_line(working.question, step, working.question.right))
    assert working.enter(key, text.format(**working.question.right)).outcome is Outcome.RIGHT


def test_a_side_of_an_angle_is_no_unit() -> None:
    working = Working(SHELF.problems["body-lean-on-wall"].question("11"))
    for step in working.steps:
        if step.key == "phi_R":
            break
        working.enter(step.key, worked_line(working.question, step, working.question.right))
    verdict = working.enter_open("phi_R", "72.0° below the horizontal")
    assert "which way it points" in reason_words(verdict.reason)
    assert working.enter_open("phi_R", "72.0° above the horizontal").outcome is Outcome.RIGHT


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("2,815 N m clockwise", Outcome.RIGHT),
        ("M_f = 2.815 N·m cw", Outcome.RIGHT),
        ("2.815 Nm (anticlockwise)", Outcome.WRONG),
        ("17.13 Nm clockwise", Outcome.WRONG),
        ("2.815 clockwise", Outcome.UNREAD),
    ],
)
def test_the_turn_behind_a_moment_is_its_sign(text: str, outcome: Outcome) -> None:
    working = Working(SHELF.problems[PAIL].question("7"))
    verdict = working.enter_open("M_f", text)
    assert verdict.outcome is outcome
    assert verdict.reason is None or verdict.reason.code == "no_unit"
