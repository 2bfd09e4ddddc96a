"""The problems in plain lines: heard by joint, opened by number, gone on with, and left."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from leverstep.bench.practice import Practice
from leverstep.bench.record_note import HalfTyped
from leverstep.course.course_plan import Week
from leverstep.course.course_words import CourseWords
from leverstep.course.libraries import Libraries
from leverstep.course.places import shipped
from leverstep.course.shelf import Shelf, load_shelf
from leverstep.faces.lines.home_line import HomeLines
from leverstep.faces.lines.verbs import Place, help_of, verbs_at
from leverstep.faces.material import Material
from leverstep.progress.problem_list import Suggested
from leverstep.working.cautions import CAUTION_SAID
from leverstep.working.guidance import Guidance

SHELF = load_shelf([shipped("problems")])


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))


class Heard:
    """What is said to a student who types some lines, and what was asked for."""

    def __init__(self, *entries: str, own: Iterable[Path] = (), shelf: Shelf = SHELF) -> None:
        self.said: list[str] = []
        self.prompts: list[str] = []
        self._entries: Iterator[str] = iter(entries)
        there_is = Material(Libraries(tuple(own)), shelf)
        self.home = HomeLines(there_is, self.said.append, self._type)
        self.home.run()

    def _type(self, prompt: str) -> str:
        self.prompts.append(prompt)
        for entry in self._entries:
            return entry
        raise EOFError


def test_the_joints_and_the_caution_are_said_first_and_no_problem_is_opened() -> None:
    heard = Heard()
    assert CAUTION_SAID in heard.said
    (joints,) = [told for told in heard.said if told.startswith(f"{len(SHELF.offered)} problems")]
    for joint in {card.joint for card in SHELF.offered}:
        count = sum(card.joint == joint for card in SHELF.offered)
        assert f"{joint} {count}" in joints
    assert heard.prompts == ["Problem: "]


def test_a_problem_is_opened_by_the_number_that_was_heard_and_the_list_comes_back() -> None:
    heard = Heard("Elbow", "2", "stop", "stop")
    cards = [card for card in SHELF.offered if card.joint == "elbow"]
    for number, card in enumerate(cards, 1):
        assert f"{number}: {card.title}, level {card.difficulty}, {card.units}." in heard.said
    assert cards[1].title in heard.said
    first = SHELF.problems[cards[1].id].question("1").derivation.asked[0]
    assert heard.prompts == ["Problem: ", "Problem: ", f"{first.key}: ", "Problem: "]
    assert heard.said[-1] == "Stopped."


def test_a_problem_is_opened_by_its_id_led_as_was_wanted() -> None:
    heard = Heard("guidance blank", "plain-seesaw", "stop")
    assert "Guidance: blank, you decide which lines to write." in heard.said
    assert heard.home.guidance is Guidance.BLANK
    assert heard.prompts[2] == "Line: "


def test_what_is_not_finished_is_named_at_the_next_start_and_gone_on_with() -> None:
    first = Heard("plain-seesaw", "1 N", "stop", "stop")
    assert not [told for told in first.said if told.startswith("Not finished")]
    title = SHELF.problems["plain-seesaw"].title
    again = Heard("go on", "lines", "stop", "stop")
    (told,) = [told for told in again.said if told.startswith(f"Not finished: {title}, today ")]
    assert re.search(r"0 of \d+ done, numbers \d+\. Type go on to take it up\.$", told)
    assert [said for said in again.said if "1 N" in said]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("9", "No problem has this number. Type a joint to hear its problems."),
        ("go on", "Nothing is unfinished. Choose a problem."),
        ("guidance none", "Guidance is one of lines, landmarks, blank, fading."),
    ],
)
def test_what_can_not_be_done_is_told_and_asked_again(typed: str, told: str) -> None:
    heard = Heard(typed)
    assert told in heard.said
    assert heard.prompts == ["Problem: "] * 2


def test_a_word_that_is_no_joint_is_told_with_what_is_near() -> None:
    heard = Heard("elbwo", "[red]x\x1b[2J")
    near, hostile = [told for told in heard.said if told.startswith("There is no such joint")]
    assert "elbow" in near
    assert "\x1b" not in hostile


def test_who_is_new_is_told_where_to_start_and_starts_there() -> None:
    heard = Heard("start", "stop", "stop")
    assert "New here? Start with A crate on a bar: type start." in heard.said
    assert heard.said.count("A crate on a bar") == 1
    assert not [told for told in Heard("plain-crowbar", "5 N").said if told.startswith("Next: ")]
    assert not [told for told in Heard().said if told.startswith("New here?")]


@pytest.mark.parametrize("typed", ["find pail", "pail", "PAIL water"])
def test_a_word_of_a_title_finds_it(typed: str) -> None:
    heard = Heard(typed, "1", "stop")
    assert "Elbow:" in heard.said
    assert heard.prompts[2] == "W_f: "


def test_what_a_word_does_not_find_is_told() -> None:
    assert "No problem has that in its title or joint." in Heard("find xyzzy").said
    assert (
        "No problem has this number. Type a joint to hear its problems." in Heard("9" * 9999).said
    )


def test_the_same_numbers_again_are_asked_about() -> None:
    first = ("numbers k7", "plain-crowbar", "5 N", "stop")
    Heard(*first)
    on = Heard("numbers k7", "plain-crowbar", "what", "go on", "lines", "stop")
    (told,) = [told for told in on.said if told.startswith("You began this problem")]
    assert "0 of " in told
    assert "Type go on, anew, or stop." in on.said
    assert [said for said in on.said if "5 N" in said]
    anew = Heard("numbers k7", "plain-crowbar", "anew", "lines", "stop")
    assert "No line is written yet." in anew.said
    assert "Nothing was opened." in Heard("numbers k7", "plain-crowbar", "stop").said


def test_what_is_kept_is_heard_with_its_day_taken_off_the_list_and_gone_on_with() -> None:
    Heard("numbers k7", "plain-crowbar", "5 N", "stop")
    Heard("numbers k8", "plain-seesaw", "5 N", "stop")
    heard = Heard("kept", "remove 2", "kept", "kept all", "go on 2", "stop", "kept", "remove 9")
    crate = [told for told in heard.said if "A crate on a bar, today " in told]
    assert [told[:2] for told in crate] == ["2:", "2:", "2:"]
    assert crate[0].endswith("numbers k7.")
    assert crate[1].endswith("numbers k7, off the list.")
    assert crate[2].endswith("numbers k7."), "going on put it back"
    more = "More are kept, earlier ones or taken off the list: kept all names them too."
    assert heard.said.count(more) == 1
    assert "No working has this number. Type kept." in heard.said


def test_of_workings_of_one_problem_the_latest_is_heard_and_all_when_asked() -> None:
    for seed in ("k7", "k8"):
        Heard(f"numbers {seed}", "plain-crowbar", "5 N", "stop")
    heard = Heard("kept", "kept all")
    told = [said for said in heard.said if said[:2] in ("1:", "2:") and "A crate" in said]
    assert [(one[:2], one.rpartition(" ")[2]) for one in told] == [
        ("1:", "k8."), ("1:", "k8."), ("2:", "k7."),
    ]  # fmt: skip
    assert [said for said in heard.said if said.startswith("More are kept")]


def test_marks_are_heard_and_what_a_problem_is_about() -> None:
    Heard("plain-crowbar", "5 N", "stop")
    heard = Heard("plain", "about 1")
    assert "1: A crate on a bar, level 1, SI, begun." in heard.said
    assert "Begun." in heard.said
    assert [told for told in heard.said if "A level bar rests on a small block" in told]


def test_numbers_of_the_own_body_are_judged_before_a_problem_is_opened() -> None:
    worked = "elbow-both-attachments"
    heard = Heard("own m_b = 5", worked, "own m_b = 72 kg", worked, "stop")
    (refused,) = [told for told in heard.said if "is outside 35 to 150 kg." in told]
    assert "Type own and other numbers" in refused
    assert [told for told in heard.said if "The body has a mass of 72 kg" in told]
    assert len([prompt for prompt in heard.prompts if prompt != "Problem: "]) == 1


def test_what_is_due_is_said_and_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    due = Suggested("elbow-full-pail", "for not converted to kilograms (due today)", "a slip", True)
    monkeypatch.setattr("leverstep.faces.lines.home_line.suggested_now", lambda *_: (due,))
    Heard("plain-crowbar", "5 N", "stop")
    heard = Heard("due", "1", "stop")
    assert "Due for review: 1 problem. Type due to hear them." in heard.said
    assert f"1: A pail in the hand, level 1, {due.why}." in heard.said
    assert heard.prompts[2] == "W_f: "


def test_the_weeks_of_a_course_are_heard() -> None:
    planned = replace(SHELF, weeks=(Week("Levers", ("plain-seesaw", "plain-crowbar")),))
    heard = Heard("week 1", "week 2", shelf=planned)
    assert "1: Levers, 2 problems." in heard.said
    assert "Levers:" in heard.said
    assert "2: A crate on a bar, level 1, SI." in heard.said
    assert "There is no week 2." in heard.said


def test_the_words_of_a_course_are_heard_and_found() -> None:
    words = CourseWords({"jaw": "Block 3"}, {"1": "first steps"}, {"effort": "muscle force"})
    heard = Heard("joints", "jaw", "about 1", "block 3", shelf=replace(SHELF, words=words))
    assert any("jaw (Block 3) " in said for said in heard.said)
    assert heard.said.count("Block 3:") == 2
    assert any(", first steps, " in said for said in heard.said)
    assert any(said.startswith("Asks for the muscle force") for said in heard.said)


def test_what_was_half_typed_on_the_screen_is_told_and_let_go_with_the_next_line() -> None:
    practice = Practice.start(SHELF.problems["plain-crowbar"], "k7", CATALOGUE)
    assert practice.record_note is not None
    key = practice.working.steps[0].key
    practice.record_note.keep_typed([HalfTyped("12.5\x1b *", key)])
    heard = Heard("go on", "5 N", "stop")
    (told,) = [told for told in heard.said if told.startswith("Half typed the last time at ")]
    assert told.endswith("and not entered: 12.5? *")
    assert not [told for told in Heard("go on", "stop").said if told.startswith("Half typed")]


def test_own_hints_that_are_left_out_are_told_where_a_problem_is_opened(tmp_path: Path) -> None:
    (tmp_path / "hints").mkdir()
    (tmp_path / "hints" / "own.toml").write_text("[slip\n", encoding="utf-8")
    told = Heard("plain-seesaw", "stop", "stop", own=[tmp_path]).said
    (left_out,) = [one for one in told if one.startswith("Your own file of hints is left out. ")]
    assert "own.toml" in left_out


def test_progress_is_told_in_three_lines_and_all_of_it_when_asked_for() -> None:
    said = Heard("progress", "progress all").said
    three = [told for told in said if told.startswith(("Next: ", "Getting better: ", "Not yet: "))]
    assert len(three) == 6
    assert three[:3] == three[3:]
    assert said.index("Your progress") > said.index(three[2])
    assert "What you have practised" in said


def test_a_habit_is_named_over_two_problems(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pounds times g in both: the second hint of the second problem names it."""
    monkeypatch.setattr("leverstep.bench.practice.new_seed", lambda: "7")
    first = ("elbow-tilted-forearm", "31.39 N", "hint", "hint", "stop")
    second = ("body-plank-two-supports", "1570 N", "hint", "hint", "stop")
    assert not [told for told in Heard(*second).said if "A habit" in told]
    (named,) = [told for told in Heard(*first, *second).said if "A habit" in told]
    assert "A habit to watch: not converted to kilograms, twice so far." in named


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("mend", "mend 2"),
        ("MEND TWO", "mend two 2"),
        ("find", "find and a word, such as find pail"),
    ],
)
def test_a_word_without_its_number_is_asked_for_it(typed: str, told: str) -> None:
    assert f"Say which, too: {told}." in Heard(typed).said


def test_help_names_weeks_where_there_are_some() -> None:
    planned = replace(SHELF, weeks=(Week("Levers", ("plain-seesaw",)),))
    weeks = [
        any("week 2:" in told for told in Heard("help", shelf=s).said) for s in (SHELF, planned)
    ]
    assert weeks == [False, True]


def test_help_names_every_word_and_the_commands_for_all_else() -> None:
    said = Heard("help").said
    assert [told for told in said if told in help_of(verbs_at(Place.HOME))]
    assert [told for told in said if "leverstep drill sit" in told]
    assert [told for told in said if "leverstep progress" in told]
