"""Line mode: a whole working in plain lines, which a screen reader and a pipe can follow."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.records import fields_in
from helpers.step_lines import right_line
from helpers.variety import VARIED
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import choices_kept
from leverstep.course.problem_file import read_problem
from leverstep.course.shelf import load_shelf
from leverstep.course.symbols import read_out, spelt
from leverstep.dialogue.free_ways import ways_to_write
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.lines.verbs import Place, help_of, verbs_at
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance, led_to
from leverstep.working.page import line_name
from leverstep.working.rules import Reasons
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask

SHELF = load_shelf()
KEPT = "What was typed is kept. To come back: leverstep practise plain-wheelbarrow --go-on"
BARROW = SHELF.problems["plain-wheelbarrow"]


class Student:
    """Types a list of entries into line mode and hears what it says."""

    def __init__(self, practice: Practice, entries: Iterable[str]) -> None:
        self.practice = practice
        self.said: list[str] = []
        self.prompts: list[str] = []
        self._entries: Iterator[str] = iter(entries)
        PracticeLine(PracticeDialogue(practice), self.said.append, self._type).run()

    def _type(self, prompt: str) -> str:
        self.prompts.append(prompt)
        for entry in self._entries:
            return entry
        raise EOFError

    def heard(self, start: str) -> list[str]:
        """Return the lines said that begin so."""
        return [line for line in self.said if line.startswith(start)]


def right_answers(practice: Practice) -> dict[str, str]:
    """Return for each line what a student with a calculator would type."""
    question = practice.question
    return {step.key: right_line(question, step) for step in question.derivation.asked}


@pytest.fixture
def practice(tmp_path: Path) -> Practice:
    """Return a new practice of the barrow, always with the same numbers."""
    return Practice.start(BARROW, "1", CATALOGUE, tmp_path)


@pytest.mark.parametrize("name", VARIED)
def test_right_answers_lead_to_the_end_of_a_problem(name: str, tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems[name], "7", CATALOGUE, tmp_path)
    answers = right_answers(practice)
    student = Student(practice, answers.values())
    assert practice.working.complete
    assert len(student.heard("Right.")) == len(student.prompts) == len(answers)
    number = len(answers)
    assert f"All {number} lines are right. Well done." in student.said
    account = f"{number} entries on {number} lines, with 0 hints. Everything is saved."
    assert student.said[-1] == account


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_every_line_is_plain_text(name: str, tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems[name], "3", CATALOGUE, tmp_path)
    entries = ["help", "problem", "hint", "hint", "hint", "hint", "1e3 s", "7 N", "lines"]
    student = Student(
        practice, [*entries, "\x1b[31mred", "lines", *right_answers(practice).values()]
    )
    for line in [*student.said, *student.prompts]:
        assert line.isprintable()
        assert not any(unicodedata.name(c, "").startswith("BOX DRAWINGS") for c in line)
    assert all(prompt.endswith(": ") for prompt in student.prompts)


def test_the_problem_is_told_before_the_first_question(practice: Practice) -> None:
    student = Student(practice, [])
    told = student.said[: student.said.index("Type help for what you can type.")]
    assert told[:3] == [BARROW.title, "Numbers: 1", practice.question.statement]
    assert "Axis of rotation: the axle." in told
    assert told[-1].startswith("Caution: ")


def test_all_that_is_to_be_found_is_told_however_the_student_is_led(tmp_path: Path) -> None:
    """Each on a line of its own, as a blank sheet asks for it."""
    for name in ("plain-lamp-two-cords", "wrist-then-elbow", "lumbar-flower-pot"):
        practice = Practice.start(SHELF.problems[name], "1", CATALOGUE, tmp_path / name)
        said = Student(practice, []).said
        first = said.index("To be found:") + 1
        sought = led_to(practice.working.steps, Guidance.BLANK)
        told = [f"{spelt(line_name(s))}: {ask(practice.question, s)}." for s in sought]
        assert said[first : first + len(told)] == told


def test_a_working_of_several_postures_tells_which_comes_next_and_once(tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems["lumbar-near-and-far"], "1", CATALOGUE, tmp_path)
    near, far = (f"{view.introduced}." for view in practice.question.views)
    assert (near, far) == (
        "First the base of the trunk with the parcel near.",
        "Then the base of the trunk with the parcel far.",
    )
    student = Student(practice, right_answers(practice).values())
    asked = student.said[student.said.index("Type help for what you can type.") :]
    told = [line for line in asked if line in (near, far, "The postures compared.")]
    assert told == [near, far, "The postures compared."]
    assert asked[asked.index(far) + 1].startswith("Line 10 of 17: Distance")


def test_where_the_input_ends_the_sitting_ends_well(practice: Practice) -> None:
    student = Student(practice, ["529.7 N"])
    assert student.said[-1] == f"The input has ended. {KEPT}"
    assert practice.working.lines["W_s"].verdict.settled


def test_stop_ends_the_sitting(practice: Practice) -> None:
    student = Student(practice, ["529.7 N", " Stop ", "98.1 N"])
    assert student.said[-1] == f"Stopped. {KEPT}"
    assert list(practice.working.lines) == ["W_s"]


def test_help_tells_what_can_be_typed_and_keeps_the_line_open(practice: Practice) -> None:
    student = Student(practice, ["help", "?"])
    told = help_of(verbs_at(Place.WORKING))
    assert len(told) == 21
    assert [line for line in student.said if line in told] == [*told, *told]
    assert student.prompts == ["W_s: "] * 3


def test_problem_tells_the_problem_again(practice: Practice) -> None:
    student = Student(practice, ["problem"])
    assert student.said.count(practice.question.statement) == 2


def test_a_question_is_said_once_and_again_at_enter_alone(practice: Practice) -> None:
    student = Student(practice, ["54 N", "help", "lines", "", "problem"])
    asks = "Line 1 of 15: Weight of the soil, in newtons."
    assert student.heard(asks) == [f"{asks} For example: 123.4 N", asks, asks]
    assert "Type the line, or a word: hint, back, lines, help." in student.said


@pytest.mark.parametrize("asked", ["what do I do now", "How?", "I don't know", "please help"])
def test_who_asks_what_to_do_is_told_what_can_be_typed_and_nothing_is_entered(
    asked: str, practice: Practice
) -> None:
    student = Student(practice, [asked, "54 N"])
    assert "Type the line, or a word: hint, back, lines, help." in student.said
    assert practice.entries_at("W_s") == ("54 N",)
    assert not student.heard("Not judged")


def test_an_example_is_given_when_a_kind_of_line_first_comes(practice: Practice) -> None:
    student = Student(practice, right_answers(practice).values())
    kinds = [
        step.kind.name if not step.kind.is_number else step.unit for step in practice.working.steps
    ]
    assert len([line for line in student.said if " For example: " in line]) == len(set(kinds))


def test_the_caution_is_told_once_and_what_is_idealised_when_asked_for(practice: Practice) -> None:
    student = Student(practice, ["problem", "problem"])
    assert len(student.heard("Caution: ")) == 1
    assert len(student.heard("Assumption: ")) == 2 * len(BARROW.idealised) > 0


def test_a_line_that_is_wrong_is_missing_once(practice: Practice) -> None:
    student = Student(practice, ["54 N", "missing"])
    told = student.said[student.said.index("Still to find:") :]
    assert len([line for line in told if line.startswith("W_s: ")]) == 1
    assert told[told.index("Not right yet:") + 1] == "W_s: Weight of the soil, in newtons."


def test_the_reaction_that_was_found_is_told_in_the_picture(practice: Practice) -> None:
    answers = right_answers(practice)
    keys = list(answers)
    before = keys[: keys.index("R_y") + 1]
    student = Student(practice, ["problem", *(answers[key] for key in before), "problem"])
    assert student.heard("R_y, ") == [
        "R_y, the force of the axle on the barrow, acts at the axle and points straight up."
    ]


def test_symbols_are_spelt_and_words_in_greek_are_not() -> None:
    assert read_out("φ_R: cos(θ) × γ_m, Μαρία") == "phi_R: cos(theta) × gamma_m, Μαρία"


def test_an_interruption_is_a_stop(tmp_path: Path) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path)
    said: list[str] = []

    def listen(prompt: str) -> str:
        raise KeyboardInterrupt(prompt)

    PracticeLine(PracticeDialogue(practice), said.append, listen).run()
    assert said[-1] == f"Stopped. {KEPT}"


def test_a_wrong_entry_keeps_the_line_open(practice: Practice) -> None:
    student = Student(practice, ["54 N", "529.7 N"])
    assert student.heard("Not yet")
    assert student.prompts == ["W_s: ", "W_s: ", "W_b: "]


def test_all_hints_are_given_and_no_more(practice: Practice) -> None:
    student = Student(practice, ["hint", "hint", "hint", "hint", "hint"])
    hints = student.heard("Hint ")
    assert len(set(hints)) == 4
    assert hints[-1] == "Hint 4 of 4 for W_s: Worked out: W_s = 54.0 kg × 9.81 m/s² = 529.7 N"
    assert "There is no further hint for W_s. Type hints to hear them again." in student.said


def test_hints_are_heard_again_without_asking_for_one(practice: Practice) -> None:
    student = Student(practice, ["hints", "hint", "hint", "hints", "go on", "hints", "hints W_s"])
    assert student.heard("No hint was given for ") == [
        "No hint was given for W_s.",
        "No hint was given for W_b.",
    ]
    hints = student.heard("Hint ")
    assert hints == hints[:2] * 3
    assert practice.hints_given.count == 2


def test_lines_reads_the_working_with_its_verdicts(practice: Practice) -> None:
    student = Student(practice, ["lines", "529.7 N", "5 N", "go on", "lines"])
    assert "No line is written yet." in student.said
    assert student.heard("W_s: ") == ["W_s: 529.7 N. Right."]
    said = "Not yet, and no slip we know explains it. A hint may help."
    assert student.heard("W_b: ") == [f"W_b: 5 N. {said}"]
    assert student.heard("Still to come: ")[-1].startswith("Still to come: d_s, d_b, ")


def test_a_line_is_read_out_without_what_a_terminal_might_act_on(practice: Practice) -> None:
    student = Student(practice, ["529.7\tN", "lines", "back"])
    assert student.heard("W_s: ") == ["W_s: 529.7?N. Right.", "W_s: 529.7?N. Right."]


def test_go_on_leaves_a_line_for_now(practice: Practice) -> None:
    student = Student(practice, ["go on", "Go On", "0.425 m"])
    assert student.prompts == ["W_s: ", "W_b: ", "d_s: ", "d_b: "]
    assert practice.working.left == {"W_s", "W_b"}
    assert len([line for line in student.said if line.endswith(" is skipped for now.")]) == 2


def test_a_line_that_was_right_before_is_not_left_by_going_on(practice: Practice) -> None:
    Student(practice, ["529.7 N", "back", "go on"])
    assert practice.working.left == set()


def test_lines_that_were_left_come_round_again(practice: Practice) -> None:
    student = Student(practice, ["go on"] * len(practice.working.steps))
    assert student.heard("Still open: ")[0].startswith("Still open: W_s, W_b, d_s")
    assert student.prompts[-1] == "W_s: "
    assert not student.heard("All 15 lines are right.")


def test_back_opens_the_line_before(practice: Practice) -> None:
    student = Student(practice, ["529.7 N", "back", "530 N"])
    assert student.heard("W_s: ") == ["W_s: 529.7 N. Right."]
    assert student.prompts == ["W_s: ", "W_b: ", "W_s: ", "W_b: "]
    assert practice.working.lines["W_s"].text == "530 N"


def test_back_tells_what_was_said_of_the_line_and_its_hints(practice: Practice) -> None:
    student = Student(practice, ["54 N", "hint", "go on", "back W_s"])
    slip, hint = student.heard("Not yet. ")[0], student.heard("Hint 1")[0]
    assert slip == "Not yet. The slip is in this line. A hint tells more."
    assert student.said[-6:-3] == [f"W_s: 54 N. {slip}", hint, ""]
    assert student.said[-3].startswith("Line 1 of ")


def test_back_opens_the_line_that_is_named(practice: Practice) -> None:
    student = Student(practice, ["go on", "529.7 N", "back w_S"])
    assert "W_s: nothing is written there yet." in student.said
    assert student.prompts[-1] == "W_s: "


def test_back_leads_to_no_line_that_comes_later(practice: Practice) -> None:
    student = Student(practice, ["back f_h"])
    assert "F_h comes later: first the lines before it." in student.said
    assert student.prompts == ["W_s: ", "W_s: "]


def test_back_tells_two_lines_apart_that_differ_in_case_alone(tmp_path: Path) -> None:
    path = SHELF.problems["shoulder-arm-to-the-side"].path
    assert path is not None
    own = tmp_path / path.name
    own.write_text(path.read_text("utf-8").replace("F_m", "F_x"), "utf-8")
    practice = Practice.start(read_problem(own), "1", CATALOGUE, tmp_path)
    left = ["go on"] * (len(practice.working.steps) - 1)
    student = Student(practice, [*left, "back r_x", "back R_x", "back R_X"])
    assert student.prompts[-3:] == ["r_x: ", "R_x: ", "r_x: "]


def test_back_at_the_first_line_says_so(practice: Practice) -> None:
    student = Student(practice, ["back"])
    assert "This is the first line." in student.said
    assert student.prompts == ["W_s: ", "W_s: "]


@pytest.mark.parametrize("entry", ["back Q_x", "back \x1b[2J"])
def test_back_to_no_line_names_the_lines_there_are(practice: Practice, entry: str) -> None:
    student = Student(practice, [entry])
    names = ", ".join(line_name(step) for step in practice.working.steps)
    assert f"There is no such line. The lines are {names}." in student.said
    assert student.prompts == ["W_s: ", "W_s: "]


def test_later_lines_whose_verdict_changes_are_told(practice: Practice) -> None:
    answers = right_answers(practice)
    followed = {**answers, "W_s": "600 N", "M_s": "-600 N * 0.425 m"}
    keys = list(answers)[: list(answers).index("M_s") + 1]
    entries = [followed[key] for key in keys]
    entries[1:1] = ["go on"]
    student = Student(practice, [*entries, "back W_s", answers["W_s"]])
    (said,) = student.heard("Right with your earlier value. That is −255.0 N·m.")
    assert said.endswith("You may also type -W_s*d_s.")
    assert student.heard("Lines that use ") == [
        "Lines that use W_s were checked again: M_s is not right any more."
    ]
    assert practice.working.lines["M_s"].verdict.outcome is Outcome.WRONG


@pytest.mark.parametrize(
    "entry",
    ["[red]x[/]", "\x1b[31m5 N\x1b[0m", "{F_h}", "%s", "__import__('os')", "5\x07 N", "\u202e5"],
)
def test_hostile_text_is_not_read_and_does_no_harm(practice: Practice, entry: str) -> None:
    student = Student(practice, [entry, "lines"])
    assert student.heard("Not judged")
    assert all(line.isprintable() for line in student.said)
    assert practice.working.lines == {}


def test_what_cannot_be_kept_is_said_and_the_working_goes_on(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder", "utf-8")
    practice = Practice.start(BARROW, "1", CATALOGUE, blocked / "practice")
    student = Student(practice, ["529.7 N"])
    assert len(student.heard("Not saved: ")) == 2
    assert student.heard("Right.")


def test_what_was_typed_is_in_the_record_in_its_order(practice: Practice) -> None:
    Student(practice, ["hint", "5 N", "lines", "go on", "98.1 N"])
    assert practice.place is not None
    kept = [(line["kind"], line.get("text")) for line in fields_in(practice.place)[1:]]
    assert kept == [("hint", None), ("entry", "5 N"), ("leave", None), ("entry", "98.1 N")]


FREE = (Guidance.LANDMARKS, Guidance.BLANK)
HEAD = SHELF.problems["neck-head-upright"]


def free_lines(practice: Practice) -> dict[str, str]:
    """Return for each line the right one, with its symbol."""
    signs = {
        step.key: "" if not step.kind.is_number else f"{step.key} = " for step in steps(practice)
    }
    return {key: signs[key] + text for key, text in right_answers(practice).items()}


def steps(practice: Practice) -> tuple[Step, ...]:
    return practice.working.steps


@pytest.fixture(params=FREE, ids=str)
def free(request: pytest.FixtureRequest, tmp_path: Path) -> Practice:
    """Return a new practice of the barrow in which any line may be written."""
    return Practice.start(BARROW, "1", CATALOGUE, tmp_path, guidance=request.param)


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("name", VARIED)
def test_a_problem_is_worked_freely_to_its_end(
    name: str, guidance: Guidance, tmp_path: Path
) -> None:
    practice = Practice.start(SHELF.problems[name], "7", CATALOGUE, tmp_path, guidance=guidance)
    lines = free_lines(practice)
    student = Student(practice, ["missing", "2 = 2", "hint", "lines", *lines.values()])
    assert practice.working.complete
    assert set(student.prompts) == {"Line: "}
    names = [spelt(line_name(step)) for step in steps(practice)]
    right = [line for line in student.said if ": Right" in line]
    assert [line.partition(":")[0] for line in right] == names
    total = len(practice.working.asked)
    assert f"All {total} lines asked for are right. Well done." in student.said
    assert all(line.isprintable() for line in student.said)
    number = len(lines)
    account = f"{number} entries on {number} lines, with 1 hint. Everything is saved."
    assert student.said[-1] == account


def test_landmarks_ask_for_each_in_turn(tmp_path: Path) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path, guidance=Guidance.LANDMARKS)
    student = Student(practice, ["M_s = -225.1 N·m", "M_sum = -287.4 N·m"])
    asks = [line for line in student.said if line.startswith("M_sum: Sum of the known")]
    assert asks == [
        "M_sum: Sum of the known moments, with its sign, in newton metres. "
        "For example: -4.56 N·m or F_h = 123.4 N"
    ]
    asked = "F_h: Force of the hands, in newtons. For example: 123.4 N or MA = 0.234"
    assert student.said[-3:-1] == [asked, ""]


def test_a_blank_sheet_tells_each_time_what_is_still_to_find(tmp_path: Path) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path, guidance=Guidance.BLANK)
    student = Student(practice, ["second"])
    assert student.heard("Still to find: ") == [
        "Still to find: F_h, MA, AR, class, R_y, direction. For example: F_h = 123.4 N",
        "Still to find: F_h, MA, AR, R_y, direction.",
    ]
    assert "class: Right." in student.said


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("elbow-pail-of-water", "d_f = 0.682 of L."),
        ("hip-one-leg-stance", "W_u = 0.84 of the body."),
    ],
)
def test_what_is_given_as_a_share_is_among_the_givens(name: str, told: str) -> None:
    practice = Practice(SHELF.problems[name].question("1"), CATALOGUE, None)
    assert told in Student(practice, ["givens"]).said


def test_where_lines_are_free_that_is_said_first_and_in_the_help(free: Practice) -> None:
    student = Student(free, ["help"])
    ways = ways_to_write(free.working)
    assert len(ways) == 2
    assert [line for line in student.said if line in ways] == [*ways, *ways]


def test_a_wrong_free_line_is_named_and_the_hints_are_for_it(free: Practice) -> None:
    student = Student(free, ["W_s = 54 N", "hint", "W_s = 529.7 N", "hint"])
    assert student.heard("W_s: Not yet. The slip is in this line. A hint tells more.")
    assert student.heard("Hint 1 of 4 for W_s: ")
    assert "W_s: Right." in student.said
    assert student.heard("Hint 1 of 4 for W_b: ")


def test_a_hint_may_be_asked_for_by_the_symbol_of_a_line(free: Practice) -> None:
    student = Student(free, ["hint d_s", "hint q_q", "hints d_s"])
    assert len(student.heard("Hint 1 of 3 for d_s: ")) == 2
    assert student.heard("There is no such line. ")
    assert free.hints_given.count == 1


def test_a_symbol_that_was_typed_is_not_said_twice(free: Practice) -> None:
    student = Student(free, ["W_s = 529.7 N", "lines"])
    assert "W_s = 529.7 N. Right." in student.said


def test_what_is_no_line_of_the_problem_is_not_judged_freely(free: Practice) -> None:
    entries = ["2 = 2", "F_h + 2 = 214.1", "hello", "\x1b[31m5 N"]
    student = Student(free, entries)
    assert len(student.heard("Not judged")) == len(entries)
    assert all(line.isprintable() for line in student.said)
    assert free.working.lines == {}


def test_a_formula_in_symbols_is_right_and_no_line_yet(free: Practice) -> None:
    student = Student(free, ["W_s = m_s*g", "M_s = -W_s*d_s", "lines"])
    assert student.heard("W_s: Right.")
    assert student.heard("M_s: The formula is right; its line is done once the numbers are put in.")
    (to_come,) = student.heard("Still to come")
    assert "F_h" in to_come
    assert "W_s = m_s*g. Right." in student.said
    assert not student.heard("M_s = ")
    assert len(student.heard("M_s: ")) == 1


def test_missing_tells_what_is_to_be_found_and_what_leads_there(tmp_path: Path) -> None:
    practice = Practice.start(HEAD, "1", CATALOGUE, tmp_path, guidance=Guidance.BLANK)
    student = Student(practice, ["W_h = 5.00 N", "missing"])
    told = student.said[student.said.index("Still to find:") :]
    assert told[1].startswith("F_m: Force of the ")
    leading = told[told.index("Lines that lead to F_m:") + 1 : told.index("Not right yet:")]
    assert [line.partition(":")[0] for line in leading] == ["d_h", "d_m", "M_h"]
    wrong = told[told.index("Not right yet:") + 1 : -2]
    assert [line.partition(":")[0] for line in wrong] == ["W_h"]


def test_missing_tells_the_line_at_hand_where_every_line_is_asked_for(practice: Practice) -> None:
    student = Student(practice, ["missing"])
    assert "W_s: Weight of the soil, in newtons." in student.said


def test_skip_and_back_while_lines_are_free(free: Practice) -> None:
    at_hand = line_name(free.working.asked[0])
    student = Student(
        free, ["back", "W_s = 5 N", "skip", "lines", "back W_s", "529.7 N", "back d_s"]
    )
    assert student.said.count("No line is written yet.") == 1
    assert f"{at_hand}: skipped for now." in student.said
    standing = "W_s = 5 N. Not yet. A hint tells more."
    assert student.said.count(standing) == 2
    assert student.prompts[5] == "W_s: "
    assert student.prompts[6:] == ["Line: ", "Line: "]
    assert "d_s is not written yet. Write it with its symbol." in student.said


def test_what_was_left_comes_round_again_while_lines_are_free(free: Practice) -> None:
    student = Student(free, ["skip"] * len(free.working.asked))
    names = ", ".join(line_name(step) for step in free.working.asked)
    assert f"Still open: {names}. Type stop to end here." in student.said


def test_a_wrong_line_that_was_not_asked_for_is_named_at_the_end(free: Practice) -> None:
    lines = free_lines(free)
    asked = [lines[step.key] for step in free.working.asked]
    student = Student(free, ["d_s = 3 m", *asked])
    total = len(free.working.asked)
    assert f"{total} of {total} lines asked for are right. Still open: d_s." in student.said


def test_the_likely_slip_is_told_at_once_where_that_is_wanted_and_the_choice_is_kept(
    practice: Practice, free: Practice
) -> None:
    """The same word takes it back; another practice begins with what was chosen last."""
    student = Student(practice, ["reasons", "54 N", "reasons", "55 N"])
    first, second = student.heard("Not yet.")
    assert "It looks like this slip: kilograms left as newtons." in first
    assert "slip:" not in second
    assert choices_kept().reasons is Reasons.WHEN_ASKED
    Student(free, ["reasons"])
    assert choices_kept().reasons is Reasons.AT_ONCE
