"""The problems in plain lines: heard by joint, opened by number, gone on with, and left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from leverstep.course.libraries import Libraries
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.faces.lines.home_line import HomeLines
from leverstep.faces.lines.verbs import Place, help_of, verbs_at
from leverstep.faces.material import Material
from leverstep.working.guidance import Guidance
from leverstep.working.wording import CAUTION_SAID

SHELF = load_shelf([shipped("problems")])


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))


class Heard:
    """What is said to a student who types some lines, and what was asked for."""

    def __init__(self, *entries: str, own: Iterable[Path] = ()) -> None:
        self.said: list[str] = []
        self.prompts: list[str] = []
        self._entries: Iterator[str] = iter(entries)
        there_is = Material(Libraries(tuple(own)), SHELF)
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
    (joints,) = [told for told in heard.said if told.startswith(f"{len(SHELF.cards)} problems")]
    for joint in {card.joint for card in SHELF.cards}:
        count = sum(card.joint == joint for card in SHELF.cards)
        assert f"{joint} {count}" in joints
    assert heard.prompts == ["Problem: "]


def test_a_problem_is_opened_by_the_number_that_was_heard_and_the_list_comes_back() -> None:
    heard = Heard("Elbow", "2", "stop", "stop")
    cards = [card for card in SHELF.cards if card.joint == "elbow"]
    for number, card in enumerate(cards, 1):
        assert f"{number}: {card.title}, level {card.difficulty}, {card.units}." in heard.said
    assert cards[1].title in heard.said
    assert heard.prompts == ["Problem: ", "Problem: ", "W_l: ", "Problem: "]
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
    (told,) = [told for told in again.said if told.startswith(f"Not finished: {title}, numbers ")]
    assert told.endswith("1 entry. Type go on to take it up.")
    assert [said for said in again.said if "1 N" in said]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("9", "No problem has this number. Type a joint to hear its problems."),
        ("go on", "Nothing is unfinished. Choose a problem."),
        ("guidance none", "Guidance is one of lines, landmarks, blank."),
    ],
)
def test_what_can_not_be_done_is_told_and_asked_again(typed: str, told: str) -> None:
    heard = Heard(typed)
    assert told in heard.said
    assert heard.prompts == ["Problem: "] * 2


def test_a_word_that_is_no_joint_is_told_with_what_is_near() -> None:
    heard = Heard("elbo", "[red]x\x1b[2J")
    near, hostile = [told for told in heard.said if told.startswith("There is no such joint")]
    assert "elbow" in near
    assert "\x1b" not in hostile


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


def test_help_names_every_word_and_the_commands_for_all_else() -> None:
    said = Heard("help").said
    assert [told for told in said if told in help_of(verbs_at(Place.HOME))]
    assert [told for told in said if "leverstep drill sit" in told]
    assert [told for told in said if "leverstep progress" in told]
