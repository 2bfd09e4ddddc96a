"""The end of a practice in plain lines: what is told there, and where its words lead."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from helpers.drills import right_entry
from helpers.material import CATALOGUE, material
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.lookback import look_back
from leverstep.faces.lines.end_lines import work_on
from leverstep.slips.habits import Habits
from leverstep.working.cautions import CAUTION_IN_SHORT
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Thinking

SHELF = load_shelf()
PAIL = "elbow-full-pail"


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an empty folder, where pages are written."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    (tmp_path / "place").mkdir()
    monkeypatch.chdir(tmp_path / "place")
    return tmp_path / "place"


class Ended:
    """A practice that comes to its end, with a slip or without, and what is typed from there on."""

    def __init__(self, *typed: str, slip: bool = True, guidance: Guidance = Guidance.LINES) -> None:
        self.practice = Practice.start(SHELF.problems[PAIL], "7", CATALOGUE, guidance=guidance)
        self.said: list[str] = []
        self.prompts: list[str] = []
        self._typed: Iterator[str] = iter([*self._lines(slip), *typed])
        work_on(self.practice, material(SHELF), Habits(), self.said.append, self._type)
        self.told = self.said[self.said.index(look_back(self.practice).ending.headline) :]

    def _lines(self, slip: bool) -> Iterable[str]:
        if slip:
            yield f"{self.practice.question.right['W_f'] / 9.81:.4g} N"
        working = self.practice.working
        for step in working.steps:
            if step in working.asked:
                entry = right_entry(self.practice, step)
                is_named = working.guidance.free and step.kind.is_number
                yield f"{step.key} = {entry}" if is_named else entry

    def _type(self, prompt: str) -> str:
        self.prompts.append(prompt)
        for entry in self._typed:
            return entry
        raise EOFError


def test_what_was_sure_and_wrong_is_told_before_all_else() -> None:
    both = PracticeChoices(thinking=frozenset({Thinking.PREDICT, Thinking.SURE}))
    practice = Practice.start(SHELF.problems[PAIL], "7", CATALOGUE, choices=both)
    typed = ["1"] * len(practice.expectations) + ["1 N", "3"]
    for step in practice.working.asked:
        typed += [right_entry(practice, step), "2"]
    said: list[str] = []
    work_on(practice, material(SHELF), Habits(), said.append, lambda _: next_or_end(typed))
    sure = said.index("Sure, but not right: W_f. Look at these first.")
    assert sure < next(n for n, one in enumerate(said) if one.startswith("Of what you expected"))


def next_or_end(typed: list[str]) -> str:
    if not typed:
        raise EOFError
    return typed.pop(0)


def test_slips_meaning_and_words_are_told_and_the_end_of_the_input_ends_quietly() -> None:
    ended = Ended()
    back = look_back(ended.practice)
    for told in (*back.remembered, *back.meaning):
        assert told in ended.told
    assert "Slip: " in " ".join(ended.told)
    assert "To go on, type one of these: again, next, slip, lines, page, stop." in ended.told
    assert ended.prompts[-1] == "Next: "
    assert ended.said[-1] == ""


def test_without_a_slip_no_word_for_one_is_offered() -> None:
    told = Ended("slip", "help", "stop", slip=False).told
    assert "No slip was made." in told
    assert "To go on, type one of these: again, next, lines, page, stop." in told
    assert "No slip was made for sure that another problem could show." in told
    assert not [line for line in told if line.startswith("slip: ")]


def test_lines_are_read_beside_the_worked_ones_with_the_caution() -> None:
    ended = Ended("lines", "stop")
    (own,) = [told for told in ended.told if told.startswith("W_l = 11.0 lb")]
    assert own.endswith(" = 48.94 N: right, as it is worked out.")
    assert "class: third: right, as it is worked out." in ended.told
    (other,) = [told for told in ended.told if told.startswith("W_f = ")]
    assert "right" in other
    assert CAUTION_IN_SHORT in ended.told
    assert all(line.isprintable() for line in ended.said)


def test_a_word_that_is_none_is_told_which_there_are() -> None:
    told = Ended("elbow", "", "stop").told
    assert len([line for line in told if line.startswith("To go on, type one of these")]) == 3


def test_a_page_is_written_where_it_is_wanted_and_never_over_another(place: Path) -> None:
    told = Ended("page", "page mine.md", "page mine.md", "page nowhere/x.html", "stop").told
    assert sorted(path.name for path in place.iterdir()) == [
        "leverstep-elbow-full-pail-7.html", "mine.md",
    ]  # fmt: skip
    assert f"Your page is at {place / 'mine.md'}" in told
    assert len([line for line in told if line.startswith("No page was written, and your")]) == 2


@pytest.mark.parametrize("word", ["again", "next", "slip"])
def test_a_word_opens_a_problem_with_new_numbers(word: str) -> None:
    ended = Ended(word, "stop")
    (numbers,) = [line for line in ended.told if line.startswith("Numbers: ")]
    assert numbers != "Numbers: 7"
    place = ended.told.index(numbers)
    is_same = ended.told[place - 1] == SHELF.problems[PAIL].title
    assert is_same is (word == "again")
    if not is_same:
        assert ended.told[place - 2].startswith(f"{ended.told[place - 1]} (")
    assert ended.prompts[-2] == "Next: "


def test_what_is_opened_is_led_as_before() -> None:
    ended = Ended("again", "stop", guidance=Guidance.LANDMARKS, slip=False)
    assert ended.prompts[-1] == "Line: "
