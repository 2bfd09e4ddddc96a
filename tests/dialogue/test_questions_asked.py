"""Questions beside the lines: asked when they are due, kept, told, and never in the way."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_with, right_entry
from helpers.line_students import begun, works
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.bench import Bench
from leverstep.bench.practice import Practice, reread
from leverstep.bench.practice_choices import PracticeChoices, choices_kept, keep_thinking
from leverstep.bench.record import NeverKept, Record, read_bytes
from leverstep.bench.record_lines import AnswerLine, EntryLine, RecordLine
from leverstep.course.problem import Question
from leverstep.dialogue.free_ways import ways_to_write
from leverstep.dialogue.lookback import look_back
from leverstep.dialogue.notice import rules_in_words
from leverstep.dialogue.pasted_lines import enter_lines
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.replies import DialogueAnswer, Mark, Unkept
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.sitting_result import marked_now, result_of
from leverstep.dialogue.working_dialogue import EXPECTED, WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_line import read_account
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.marking.collecting import Student
from leverstep.marking.marking import mark_record
from leverstep.marking.tables import marks_columns, steps_columns
from leverstep.questions.choice_question import QuestionSort
from leverstep.questions.sureness import SureEntry
from leverstep.reports.class_report import class_report
from leverstep.reports.gathering import ClassFigures
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Thinking

PAIL = SHELF.problems["elbow-full-pail"]
PREDICT = PracticeChoices(thinking=frozenset({Thinking.PREDICT}))


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was chosen before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def start(folder: Path, choices: PracticeChoices = PREDICT) -> Practice:
    return Practice.start(PAIL, "7", CATALOGUE, folder, choices=choices)


def number_of(dialogue: WorkingDialogue, right: bool = True) -> int:
    """Return the number of an answer that is right, or of one that is not."""
    question = dialogue.question
    assert question is not None
    keys = [answer.key for answer in question.answers]
    return next(n for n, key in enumerate(keys, 1) if (key in question.right) is right)


def work(bench: Bench) -> None:
    while (step := bench.working.current()) is not None:
        assert bench.enter(step.key, right_entry(bench, step)).settled


def kinds(path: Path) -> list[object]:
    return [fields["kind"] for fields in fields_in(path)]


# When they are asked.


def test_nothing_is_asked_unless_it_was_chosen(tmp_path: Path) -> None:
    practice = start(tmp_path, PracticeChoices())
    dialogue = PracticeDialogue(practice)
    assert dialogue.question is None
    work(practice)
    assert dialogue.question is None
    assert practice.place is not None
    assert set(kinds(practice.place)) == {"practice", "entry", "end"}
    assert look_back(practice).expected == ()


def test_each_is_asked_once_before_the_first_line_and_told_at_the_end(tmp_path: Path) -> None:
    practice = start(tmp_path)
    dialogue = PracticeDialogue(practice)
    places = []
    while dialogue.question is not None:
        places.append(dialogue.question_place)
        is_last = len(places) == 5
        answer = dialogue.choose(number_of(dialogue, right=not is_last))
        assert answer.told == (EXPECTED if is_last else "")
        assert answer.verdict is None
    assert places == [f"{number} of 5" for number in range(1, 6)]
    assert look_back(practice).expected == (), "a line is open"
    work(practice)
    headline, *told = look_back(practice).expected
    assert headline == "Of what you expected, 4 of 5 came out so."
    assert [one.endswith(". You expected that.") for one in told] == [True] * 4 + [False]
    assert ". You expected: " in told[-1]


def test_a_question_may_be_passed_over_and_is_not_told_of(tmp_path: Path) -> None:
    practice = start(tmp_path)
    dialogue = PracticeDialogue(practice)
    for _ in range(4):
        dialogue.choose(0)
    dialogue.choose(number_of(dialogue))
    work(practice)
    assert look_back(practice).expected[0] == "It came out as you expected."
    assert len(look_back(practice).expected) == 2


def test_none_passed_over_says_nothing_is_kept(tmp_path: Path) -> None:
    practice = start(tmp_path)
    dialogue = PracticeDialogue(practice)
    answers = [dialogue.choose(0) for _ in range(5)]
    assert [answer.told for answer in answers] == [""] * 5
    assert dialogue.question is None
    assert look_back(practice).expected == ()


def test_a_number_that_no_answer_has_chooses_none(tmp_path: Path) -> None:
    practice = start(tmp_path)
    dialogue = PracticeDialogue(practice)
    first = dialogue.question
    assert dialogue.choose(9).told == "The answers are 1 to 3."
    assert dialogue.question is first
    assert practice.answers == {}


def test_once_a_line_was_entered_nothing_is_expected_any_more(tmp_path: Path) -> None:
    practice = start(tmp_path)
    dialogue = PracticeDialogue(practice)
    dialogue.choose(1)
    practice.enter("W_f", "16.19 N")
    assert dialogue.question is None
    assert dialogue.choose(1).told == ""
    assert len(practice.answers) == 1


def test_what_is_chosen_is_kept_for_the_next_start(tmp_path: Path) -> None:
    dialogue = PracticeDialogue(start(tmp_path, PracticeChoices()))
    assert "you are asked what you expect" in dialogue.change_thinking(Thinking.PREDICT).told
    assert dialogue.question is not None
    assert choices_kept().thinking == {Thinking.PREDICT}
    assert "not asked" in dialogue.change_thinking(Thinking.PREDICT).told
    assert dialogue.question is None
    assert choices_kept().thinking == frozenset()
    keep_thinking(frozenset(Thinking))
    assert choices_kept().thinking == set(Thinking)
    (tmp_path / "home" / "thinking").write_bytes(b"\xff predict")
    assert choices_kept().thinking == frozenset()


def test_a_fault_in_the_questions_costs_no_working(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: Question) -> tuple[()]:
        raise ZeroDivisionError

    monkeypatch.setattr("leverstep.bench.questions_beside.expectations", fails)
    practice = start(tmp_path)
    assert PracticeDialogue(practice).question is None
    work(practice)
    assert practice.working.complete


# Whether it makes sense.

SENSE = PracticeChoices(thinking=frozenset({Thinking.SENSE}))


def test_sense_is_asked_once_all_lines_are_right_and_told_at_once(tmp_path: Path) -> None:
    practice = start(tmp_path, SENSE)
    dialogue = PracticeDialogue(practice)
    assert dialogue.question is None, "no line is written yet"
    work(practice)
    first = dialogue.question
    assert first is not None
    assert dialogue.question_place == "1 of 2"
    wrong = number_of(dialogue, right=False)
    answer = dialogue.choose(wrong)
    assert answer.told == first.told_of(first.answers[wrong - 1].key)
    assert answer.told.startswith("Not quite. ")
    assert dialogue.choose(number_of(dialogue)).told.startswith("Yes. ")
    assert dialogue.question is None
    assert look_back(practice).expected == (), "nothing was asked before"
    assert len(practice.sensed) == 2
    assert practice.place is not None
    again = Practice.resume(practice.place, SHELF, CATALOGUE, choices=SENSE)
    assert again.to_answer is None


def test_where_only_sense_is_asked_no_expectation_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[Question] = []
    monkeypatch.setattr(
        "leverstep.bench.questions_beside.expectations", lambda one: made.append(one) or ()
    )
    practice = start(tmp_path, SENSE)
    work(practice)
    dialogue = PracticeDialogue(practice)
    places = []
    while dialogue.question is not None and len(places) < 3:
        places.append(dialogue.question_place)
        dialogue.choose(0)
    assert places == ["1 of 2", "2 of 2"]
    assert not made


def test_sense_is_not_asked_of_a_result_that_is_not_right_by_itself(tmp_path: Path) -> None:
    practice = start(tmp_path, SENSE)
    dialogue = PracticeDialogue(practice)
    practice.enter("W_f", "17.77 N")
    for step in practice.working.steps[1:]:
        practice.leave(step.key)
    assert dialogue.question is None
    work(practice)
    while (step := practice.working.current()) is not None:
        practice.enter(step.key, right_entry(practice, step))
    assert not practice.is_all_right
    assert dialogue.question is None


def test_where_verdicts_wait_for_the_end_sense_is_not_asked(tmp_path: Path) -> None:
    sitting = sat(tmp_path, 'sense = true\nfeedback = "at the end"')
    work_blind(sitting.benches[0])
    assert sitting.benches[0].is_all_right
    assert SittingDialogue(sitting).working.question is None
    assert not any("makes sense" in rule for rule in rules_of_drill(sitting))


def work_blind(bench: Bench) -> None:
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(bench, step))


def rules_of_drill(sitting: Sitting) -> list[str]:
    return list(rules_in_words(sitting.drill, None, "press F10", "press Esc"))


def test_sense_questions_of_a_drill_are_counted_and_marked_without_marks(tmp_path: Path) -> None:
    sitting = sat(tmp_path, "sense = true")
    dialogue = SittingDialogue(sitting)
    work(sitting.benches[0])
    dialogue.turn_to(0)
    dialogue.choose(number_of(dialogue.working))
    dialogue.choose(number_of(dialogue.working, right=False))
    dialogue.hand_in()
    marked = marked_now(sitting)
    assert marked is not None
    assert [(one.when, one.right) for one in marked.answers] == [
        (Thinking.SENSE, True),
        (Thinking.SENSE, False),
    ]
    student = Student("s01", "", marked, (marked,), ())
    columns = marks_columns(sitting.drill)
    assert columns["sense questions"](student) == "2"
    assert columns["sense questions right"](student) == "1"
    assert "predictions" not in columns
    assert float(columns["total"](student)) == 6


def test_by_ear_sense_is_asked_after_the_last_line(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "sense = true")
    bench = sitting.benches[0]
    lines = [right_entry(bench, step) for step in bench.working.steps]
    student = works(sitting, [*lines, "1", "skip", "next", "stop"])
    assert len(student.heard("Question 1 of 2: For each 100 N of ")) == 1
    assert len([line for line in student.said if line.startswith(("Yes. ", "Not quite. "))]) == 1
    assert list(bench.answers.values())[1:] == [""]


# How sure.

SURE = PracticeChoices(thinking=frozenset({Thinking.SURE}))


def test_an_entry_is_judged_once_it_was_said_how_sure_and_kept_with_that(tmp_path: Path) -> None:
    practice = start(tmp_path, SURE)
    dialogue = PracticeDialogue(practice)
    answer = dialogue.submit("17.77 N")
    assert (answer.verdict, answer.told) == (None, "")
    question = dialogue.question
    assert question is not None
    assert question.asks == "How sure are you of this line? 17.77 N"
    assert dialogue.question_place == ""
    assert dialogue.choose(7).told == "The answers are 1 to 3."
    assert practice.working.lines == {}, "it is still asked"
    entered = dialogue.choose(3)
    assert entered.verdict is not None
    assert entered.mark is Mark.WRONG
    assert dialogue.question is None
    dialogue.submit("16.19 N")
    assert dialogue.choose(0).mark is Mark.RIGHT
    assert practice.place is not None
    lines = [line for line in fields_in(practice.place) if line["kind"] == "entry"]
    assert [line.get("sure") for line in lines] == [3, None]
    assert practice.sureness == [SureEntry("W_f", 3, right=False)]
    assert reread(practice.place, SHELF, CATALOGUE).sureness == practice.sureness


def test_an_entry_that_waits_for_how_sure_is_judged_once(tmp_path: Path) -> None:
    practice = start(tmp_path, SURE)
    dialogue = PracticeDialogue(practice)
    dialogue.submit("17.77 N")
    dialogue.choose(2)
    dialogue.submit("16.19 N")
    dialogue.choose(0)
    assert (practice.working.judgings, practice.working.stands("W_f")) == (2, True)


@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.LANDMARKS])
def test_how_sure_is_not_asked_of_what_can_not_be_read(tmp_path: Path, guidance: Guidance) -> None:
    practice = Practice.start(PAIL, "7", CATALOGUE, tmp_path, guidance=guidance, choices=SURE)
    dialogue = PracticeDialogue(practice)
    for text in ("x", "1.25"):
        told = dialogue.submit(text)
        assert (told.mark, dialogue.question) == (Mark.UNREAD, None)
    dialogue.submit("W_f = 16.19 N")
    assert dialogue.question is not None
    dialogue.choose(2)
    dialogue.go_to("W_f")
    dialogue.submit("W_f = 16.19 N")
    assert dialogue.question is None, "it stands there already"


@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.LANDMARKS])
def test_how_sure_is_asked_of_a_line_in_own_words_only_if_it_is_taken(
    tmp_path: Path, guidance: Guidance
) -> None:
    """What the page does not understand, or knows already, is told as that at once."""
    practice = Practice.start(PAIL, "7", CATALOGUE, tmp_path, guidance=guidance, choices=SURE)
    other = Practice.start(PAIL, "7", CATALOGUE, tmp_path / "other", guidance=guidance)
    dialogue, beside = PracticeDialogue(practice), PracticeDialogue(other)
    asked = []
    for text in (
        "the ratio of arms 135 over 41.5 is 3.25", "weight of the forearm is 1.65 x 9.81 = 16.19 N",
        "weight of the forearm is 1.65 x 9.81 = 16.19 N", "forearm 16.19 x 0.1702 = 2.755 Nm",
        "Take g = 9.81", "flexors pull with 5000 N",
    ):  # fmt: skip
        dialogue.submit(text)
        asked.append(dialogue.question is not None)
        answer = dialogue.choose(3) if asked[-1] else dialogue.latest
        assert answer is not None
        assert answer.verdict == beside.enter(text).verdict, "it is judged as if nothing was asked"
        assert answer.verdict is not None
        assert asked[-1] == answer.verdict.counts
    assert asked == [False, True, False, False, False, False]


def test_a_line_that_waits_is_entered_once_how_sure_is_asked_no_more(tmp_path: Path) -> None:
    dialogue = PracticeDialogue(start(tmp_path, SURE))
    dialogue.submit("16.19 N")
    answer = dialogue.change_thinking(Thinking.SURE)
    assert answer.told.startswith("From now on, you are not asked how sure you are. Right.")
    assert (answer.mark, dialogue.question) == (Mark.RIGHT, None)


def test_what_was_sure_and_wrong_is_looked_at_first(tmp_path: Path) -> None:
    practice = start(tmp_path, SURE)
    dialogue = PracticeDialogue(practice)
    for step in practice.working.steps:
        if step.key == "d_m":
            dialogue.submit("4.6 m")
            dialogue.choose(3)
        dialogue.submit(right_entry(practice, step))
        dialogue.choose(1 if step.key == "F_m" else 3)
    back = look_back(practice)
    assert back.sure == (
        "You were sure of 16 entries; 15 right.",
        "Of 1 guess, 1 right.",
        "Sure, but not right: d_m. Look at these first.",
    )
    assert [line.name for line in back.in_turn[:2]] == ["d_m", "W_f"]
    assert [line.name for line in back.lines[:2]] == ["W_f", "W_l"]
    assert [line.name for line in back.lines if line.is_held] == ["d_m"]


def test_who_says_nothing_of_it_is_told_nothing_of_it(tmp_path: Path) -> None:
    practice = start(tmp_path, PracticeChoices())
    dialogue = PracticeDialogue(practice)
    assert dialogue.submit("17.77 N").mark is Mark.WRONG
    assert look_back(practice).sure == ()


def test_on_a_blank_sheet_it_is_not_asked(tmp_path: Path) -> None:
    practice = Practice.start(PAIL, "7", CATALOGUE, tmp_path, guidance=Guidance.BLANK, choices=SURE)
    assert PracticeDialogue(practice).submit("W_f = 16.19 N").mark is Mark.RIGHT
    assert practice.sureness == []


@pytest.mark.parametrize("guidance", [Guidance.BLANK, Guidance.LINES])
def test_a_line_may_end_with_how_sure_the_student_is(guidance: Guidance, tmp_path: Path) -> None:
    practice = Practice.start(PAIL, "7", CATALOGUE, tmp_path, guidance=guidance, choices=SURE)
    dialogue = PracticeDialogue(practice)
    assert dialogue.submit("W_f = 17.77 N #3").mark is Mark.WRONG
    assert dialogue.submit("W_f = 16.19 N # 1").mark is Mark.RIGHT
    assert [(one.sure, one.right) for one in practice.sureness] == [(3, False), (1, True)]
    assert practice.working.lines["W_f"].text.endswith("16.19 N")
    path = practice.place
    assert path is not None
    kept = [(one["text"], one["sure"]) for one in fields_in(path) if "text" in one]
    assert kept == [("W_f = 17.77 N", 3), ("W_f = 16.19 N", 1)]
    assert Practice.resume(path, SHELF, CATALOGUE).sureness == practice.sureness
    assert dialogue.submit("W_l = 41.5 N #4").verdict is not None
    assert look_back(practice).sure[0].startswith("You were sure of 1 entry; 0 right.")


def test_on_a_blank_sheet_it_is_told_how_to_say_it(tmp_path: Path) -> None:
    for choices, is_told in ((SURE, True), (None, False)):
        practice = Practice.start(
            PAIL, "7", CATALOGUE, tmp_path, guidance=Guidance.BLANK, choices=choices
        )
        asked = PracticeDialogue(practice).asked
        assert asked is not None
        assert asked.aside.endswith("= 123.4 N #2 where you are fairly sure.") is is_told
        told = "End it with how sure you are, #1 a guess, #2 fairly sure, #3 sure."
        assert (told in ways_to_write(practice.working)) is is_told


def test_each_of_several_pasted_lines_may_end_with_how_sure_the_student_is(tmp_path: Path) -> None:
    practice = Practice.start(PAIL, "7", CATALOGUE, tmp_path, choices=SURE)
    lines = ["W_f = 16.19 N #2", f"W_l = {practice.question.right['W_l']:.5g} N #3"]
    dialogue = PracticeDialogue(practice)
    enter_lines(dialogue, dialogue, lines, "pasted")
    assert [(one.step, one.sure) for one in practice.sureness] == [("W_f", 2), ("W_l", 3)]


def test_who_is_not_asked_says_nothing_by_a_mark(tmp_path: Path) -> None:
    practice = Practice.start(PAIL, "7", CATALOGUE, tmp_path)
    assert PracticeDialogue(practice).submit("W_f = 16.19 N #3").verdict is not None
    assert practice.sureness == []


def test_in_a_drill_it_is_in_the_tables_and_the_class_report_names_slips_held_surely(
    tmp_path: Path,
) -> None:
    sitting = sat(tmp_path, "sure = true")
    bench, dialogue = sitting.benches[0], SittingDialogue(sitting)
    soil = next(one for one in bench.question.givens if one.sign == "m_s")
    typed = ["54 N", f"{bench.question.number_written(soil)} N"]
    for text, sure in zip(
        [*typed, right_entry(bench, bench.working.steps[0])], (3, 3, 2), strict=True
    ):
        dialogue.submit(text)
        dialogue.choose(sure)
    dialogue.hand_in()
    marked = marked_now(sitting)
    assert marked is not None
    assert [entry.sureness for entry in marked.entries] == [3, 3, 2]
    cell = steps_columns(sitting.drill)["how sure"]
    assert [cell(marked, entry) for entry in marked.entries] == ["3", "3", "2"]
    assert "how sure" not in steps_columns(drill_with())
    figures = ClassFigures(sitting.drill, CATALOGUE)
    figures.add(Student("s01", "", marked, (marked,), ()))
    (slip,) = figures.figures().slips
    assert slip.held == 1
    told = str(class_report(figures.figures()))
    assert f"Slips made by students who were sure: {slip.name} (1 entry)." in told
    first = result_of(sitting, marked).tasks[0]
    assert "Sure, but not right: W_s. Look at these first." in first.sure
    said = [(one.sure, one.entries, one.right) for one in figures.figures().sureness]
    judged = [entry for entry in marked.entries if entry.counts]
    assert said == [(3, len(judged) - 1, 0), (2, 1, 1)]


def test_after_a_drill_lines_that_were_sure_and_wrong_come_first(tmp_path: Path) -> None:
    sitting = sat(tmp_path, "sure = true")
    dialogue, working = SittingDialogue(sitting), sitting.benches[0].working
    first, second = working.steps[:2]
    for text, sure in ((right_entry(sitting.benches[0], first), 1), ("5.4 N", 3)):
        dialogue.submit(text)
        dialogue.choose(sure)
    dialogue.hand_in()
    (task, *_) = result_of(sitting, marked_now(sitting)).tasks
    assert [one.step.key for one in task.lines] == [second.key, first.key]
    said: list[str] = []
    read_account(sitting, said.append)
    (sure,) = (said.index(one) for one in said if one.startswith("Sure, but not right: "))
    assert sure < min(n for n, one in enumerate(said) if "5.4 N" in one)


def test_who_was_sure_of_nothing_is_told_no_share(tmp_path: Path) -> None:
    practice = start(tmp_path, SURE)
    dialogue = PracticeDialogue(practice)
    dialogue.submit("17.77 N")
    dialogue.choose(2)
    assert look_back(practice).sure == ("You were sure of no entry.",)


def test_by_ear_how_sure_is_one_prompt_and_enter_says_nothing_of_it(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "sure = true")
    student = works(sitting, ["540 N", "3", "541 N", "", "hint", "lines", "stop"])
    asked = "How sure, 1 a guess, 2 fairly sure, 3 sure, or skip: "
    assert student.said.count(asked) == 2
    assert len(student.heard("Not yet")) == 2
    assert len(student.heard("Line 1 of ")) == 1, "the question is not said again"
    assert len(student.heard("Hint 1 of 4")) == 1
    entries = [line for line in fields_in(sitting.place) if line["kind"] == "entry"]
    assert [line.get("sure") for line in entries] == [3, None]


def test_a_line_held_back_is_entered_before_a_sitting_is_handed_in_or_left(tmp_path: Path) -> None:
    handed = sat(tmp_path / "in", "sure = true")
    dialogue = SittingDialogue(handed)
    dialogue.submit("540 N")
    dialogue.hand_in()
    assert handed.ended
    assert handed.benches[0].working.lines["W_s"].text == "540 N"
    left = begun(tmp_path, "sure = true")
    works(left, ["540 N", "stop"])
    assert left.benches[0].working.lines["W_s"].text == "540 N"
    practice = start(tmp_path / "practice", SURE)
    typed = iter(["16.19 N"])
    PracticeLine(PracticeDialogue(practice), lambda _: None, lambda _: next_or_end(typed)).run()
    assert practice.working.lines["W_f"].text == "16.19 N"


def test_a_line_held_back_that_can_never_be_kept_keeps_nobody_from_handing_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sitting = sat(tmp_path, "sure = true")
    dialogue = SittingDialogue(sitting)
    dialogue.submit("540 N")
    append = Record.append

    def full(record: Record, line: RecordLine) -> None:
        if isinstance(line, EntryLine):
            raise NeverKept("the record is full")
        append(record, line)

    monkeypatch.setattr(Record, "append", full)
    assert isinstance(dialogue.choose(3), Unkept)
    dialogue.hand_in()
    assert sitting.ended


def next_or_end(typed: Iterator[str]) -> str:
    """Return what is typed next; the input ends where there is nothing more."""
    for text in typed:
        return text
    raise EOFError


def test_how_sure_waits_for_the_disk_with_its_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk(monkeypatch)
    sitting = sat(tmp_path, "sure = true")
    dialogue = SittingDialogue(sitting)
    dialogue.submit("540 N")
    disk.broken.append(tmp_path)
    assert isinstance(dialogue.choose(3), Unkept)
    assert dialogue.working.question is not None, "it is kept with neither"
    disk.broken.clear()
    reply = dialogue.try_again()
    assert isinstance(reply, DialogueAnswer)
    assert reply.mark is Mark.WRONG
    assert dialogue.working.question is None
    assert sitting.benches[0].sureness[0].sure == 3


# What is kept.


def test_answers_are_on_the_disk_before_they_are_told_and_go_on(tmp_path: Path) -> None:
    practice = start(tmp_path)
    dialogue = PracticeDialogue(practice)
    dialogue.choose(2)
    dialogue.choose(0)
    assert practice.place is not None
    asked = [one.key for one in practice.expectations]
    written = [line for line in fields_in(practice.place) if line["kind"] == "answer"]
    assert [(line["question"], line["answer"]) for line in written] == [
        (asked[0], "cw"),
        (asked[1], ""),
    ]
    again = Practice.resume(practice.place, SHELF, CATALOGUE, choices=PREDICT)
    assert again.answers == {asked[0]: "cw", asked[1]: ""}
    assert again.to_answer is not None
    assert again.to_answer.key == asked[2]
    assert reread(practice.place, SHELF, CATALOGUE).answers == again.answers


def test_what_stands_in_a_record_is_never_more_than_an_answer() -> None:
    bench = Bench(PAIL.question("7"), CATALOGUE, lambda _: None)
    for question, answer in (("turns:W_l", "up"), ("dance", "cw"), ("turns:W_f", "cw")):
        bench.replay(AnswerLine(question=question, answer=answer))
    bench.replay(AnswerLine(question="turns:W_f", answer="ccw"))
    bench.replay(AnswerLine(question=None, answer="ccw"))
    assert [(one.key, key) for one, key in bench.expected] == [("turns:W_f", "cw")]


# In a drill.


def sat(folder: Path, rules: str = "predict = true") -> Sitting:
    return Sitting.start(drill_with(rules), CATALOGUE, "s01", folder)


def test_a_drill_asks_at_each_task_and_marks_the_answers_without_marks(tmp_path: Path) -> None:
    sitting = sat(tmp_path)
    dialogue = SittingDialogue(sitting)
    for place, bench in enumerate(sitting.benches):
        dialogue.turn_to(place)
        rights = iter([False, *[True] * 5])
        while dialogue.working.question is not None:
            dialogue.choose(number_of(dialogue.working, next(rights)))
        if not place:
            work(bench)
    dialogue.hand_in()
    marked = marked_now(sitting)
    assert marked is not None
    made = [(one.when, one.right) for one in marked.answers]
    assert made == [(Thinking.PREDICT, right) for right in ([False] + [True] * 4) * 2]
    assert {one.sort for one in marked.answers} == {
        QuestionSort.TURNS, QuestionSort.SIZE, QuestionSort.REACTION,
    }  # fmt: skip
    first, second = result_of(sitting, marked).tasks
    assert first.after[-6] == "Of what you expected, 4 of 5 came out so."
    assert not second.expected, "its lines are not all right"
    student = Student("s01", "", marked, (marked,), ())
    columns = marks_columns(sitting.drill)
    assert columns["predictions"](student) == "10"
    assert columns["predictions right"](student) == "8"
    assert float(columns["total"](student)) == 6, "the marks of the first task alone"
    figures = ClassFigures(sitting.drill, CATALOGUE)
    figures.add(student)
    told = str(class_report(figures.figures()))
    assert "Questions beside the lines" in told
    assert "Which way a force turns the segment', '6', '67 %'" in told


def test_a_drill_without_the_rule_has_neither_questions_nor_columns(tmp_path: Path) -> None:
    sitting = sat(tmp_path, "")
    assert SittingDialogue(sitting).working.question is None
    assert not [name for name in marks_columns(sitting.drill) if "prediction" in name]
    sitting.hand_in()
    marked = mark_record(sitting.drill, CATALOGUE, "r", read_bytes(sitting.place))
    assert marked.answers == ()
    figures = ClassFigures(sitting.drill, CATALOGUE)
    figures.add(Student("s01", "", marked, (marked,), ()))
    assert "Questions beside" not in str(class_report(figures.figures()))


def test_an_answer_waits_for_the_disk_as_a_line_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk(monkeypatch)
    sitting = sat(tmp_path)
    dialogue = SittingDialogue(sitting)
    first = dialogue.working.question
    assert first is not None
    disk.broken.append(tmp_path)
    assert isinstance(dialogue.choose(2), Unkept)
    assert dialogue.waits
    assert dialogue.working.question is first
    disk.broken.clear()
    assert isinstance(dialogue.try_again(), DialogueAnswer)
    assert dialogue.working.question is not first
    assert sitting.benches[0].answers == {first.key: "cw"}


def test_marks_are_the_same_with_answers_and_without(tmp_path: Path) -> None:
    totals = []
    for name, chosen in (("with", 1), ("without", None)):
        sitting = sat(tmp_path / name)
        dialogue = SittingDialogue(sitting)
        while chosen and dialogue.working.question is not None:
            dialogue.choose(chosen)
        for step in sitting.benches[0].working.steps:
            dialogue.enter(right_entry(sitting.benches[0], step))
        dialogue.hand_in()
        marked = marked_now(sitting)
        assert marked is not None
        totals.append((marked.marks, [line.share for line in marked.lines], marked.remarks))
    assert totals[0] == totals[1]


# By ear.


def test_by_ear_answers_are_numbered_and_said_again_only_when_they_are_others(
    tmp_path: Path,
) -> None:
    student = works(
        begun(tmp_path, "predict = true"), ["2", "", "nothing", "skip", "8", "1", "lines", "stop"]
    )
    said = student.said
    assert said.count("1: anticlockwise.") == 2, "at first, and at Enter alone"
    assert len(student.heard("Question 2 of 5: ")) == 2
    assert len(student.heard("Type a number from 1 to 3; skip passes it over")) == 1
    assert len(student.heard("The answers are 1 to 3.")) == 1
    assert said.count("Type the number of your answer, or skip.") == 2, "as the answers are"
    assert "No line is written yet." in said
    assert [line for line in said if line.startswith("1 to ")][-1] == "1 to 6: "
    assert not student.heard("Line 1"), "no line is asked for before"


def test_by_ear_what_came_of_it_is_told_with_the_result(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "predict = true")
    bench = sitting.benches[0]
    lines = [right_entry(bench, step) for step in bench.working.steps]
    student = works(sitting, ["2", "2", "1", "2", "1", *lines, "hand in", "yes"])
    assert EXPECTED in student.said
    assert len([line for line in student.said if ". You expected that." in line]) >= 3
