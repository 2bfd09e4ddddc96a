"""A mixed set in plain lines: gone through, left and come back to, and told at its end."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest
from helpers.drill_sittings import right_entries
from helpers.material import material
from leverstep.bench.practice import records_there_are
from leverstep.bench.practice_choices import keep_choice
from leverstep.course.shelf import load_shelf
from leverstep.faces.commands.cli import main
from leverstep.faces.lines.home_line import HomeLines
from leverstep.progress.mixed_set import MixedSet, set_kept
from leverstep.working.rules import Pictures

SHELF = load_shelf()


pytestmark = pytest.mark.usefixtures("home_in_use")


def kept() -> MixedSet:
    mixed = set_kept(SHELF)
    assert mixed is not None
    return mixed


def right_lines(place: int) -> Iterable[str]:
    """Return the right lines of a problem of the set that is kept."""
    one = kept().problems[place]
    return right_entries(SHELF.problems[one.ident].question(one.seed)).values()


class Typing:
    """What is typed one after the other: texts, and functions that give texts when it is time."""

    def __init__(self, *typed: str | Callable[[], Iterable[str]]) -> None:
        self.said: list[str] = []
        self.prompts: list[str] = []
        self._typed = self._texts(typed)
        HomeLines(material(SHELF), self.said.append, self._type).run()

    def _texts(self, typed: Iterable[str | Callable[[], Iterable[str]]]) -> Iterable[str]:
        for one in typed:
            if isinstance(one, str):
                yield one
            else:
                yield from one()

    def _type(self, prompt: str) -> str:
        self.prompts.append(prompt)
        for text in self._typed:
            return text
        raise EOFError

    def after(self, told: str) -> list[str]:
        """Return what was said from a line on."""
        return self.said[self.said.index(told) :]


def test_the_next_problem_follows_from_a_diagram_that_is_drawn_too() -> None:
    keep_choice(Pictures.ASKED)
    typed = Typing("mixed 3", "next problem", "next problem", "next problem", "stop")
    for number in (1, 2, 3):
        assert f"Problem {number} of 3 of your mixed set." in typed.said
    assert any(prompt == "Free-body diagram: " for prompt in typed.prompts), typed.prompts
    assert not [line for line in typed.said if "is for the lines" in line]


def test_a_set_is_gone_through_and_told_at_its_end() -> None:
    """Each problem has its place as its heading, and a record of its own."""
    typed = Typing(
        "mixed 2", lambda: right_lines(0), "again", "slip", "next", lambda: right_lines(1), "next",
        "progress", "stop",
    )  # fmt: skip
    first, second = (typed.said.index(f"Problem {n} of 2 of your mixed set.") for n in (1, 2))
    titles = {card.title for card in SHELF.offered}
    assert first < second
    assert {typed.said[first + 1], typed.said[second + 1]} <= titles
    assert len(records_there_are()) == 2
    (told,) = [one for one in typed.said if one.startswith("Your mixed set: ")]
    assert told.startswith("Your mixed set: 2 of 2 problems worked to the end, ")
    (well,) = [one for one in typed.said if one.startswith("Went well: ")]
    assert well.count("right first time") == 2
    assert any(one.startswith("Next: ") for one in typed.after(told))
    assert set_kept(SHELF) is None


def test_within_a_set_no_word_leads_elsewhere_and_help_says_where_next_leads() -> None:
    typed = Typing("mixed 2", lambda: right_lines(0), "help", "stop", "stop")
    assert "To go on, type one of these: next, lines, page, stop." in typed.said
    assert "next: the next problem of your mixed set." in typed.said
    assert not [told for told in typed.said if told.startswith("again: ")]


def test_a_set_is_left_and_come_back_to_where_it_was() -> None:
    """A problem that came to its end is behind, one that did not is gone on with."""
    typed = Typing(
        "mixed 3", lambda: right_lines(0), "stop", "mixed", "9.9 N", "stop", "mixed", "lines",
        "stop", "stop",
    )  # fmt: skip
    assert typed.said.count("Problem 1 of 3 of your mixed set.") == 1
    assert typed.said.count("Problem 2 of 3 of your mixed set.") == 2
    assert kept().behind == 1
    assert len(records_there_are()) == 2
    told = "Your mixed set is kept. To come back to it: leverstep practise --mixed"
    assert typed.said.count(told) == 3


def test_a_problem_is_passed_on_from_and_stays_kept() -> None:
    """A force or a length, whichever the first line of the second problem asks for."""
    entries = ("9.9 N", "9.9 m")
    typed = Typing("mixed 2", "next problem", *entries, "next problem", "kept", "stop")
    assert "Your mixed set: 0 of 2 problems worked to the end, 0 of 1 line right first time." in (
        typed.said
    )
    assert "Type go on and a number, or remove and a number." in typed.said


def test_outside_a_set_there_is_no_such_word() -> None:
    """Nor is anything said of sets in a problem that is opened as ever."""
    typed = Typing("elbow-full-pail", "help", "next problem", "stop", "stop")
    assert not [told for told in typed.said[5:] if "next problem" in told]
    assert not [told for told in typed.said if "of your mixed set" in told]
    assert set_kept(SHELF) is None


def test_another_set_is_drawn_only_where_that_is_said() -> None:
    typed = Typing("mixed 3", "stop", "mixed 4", "stop", "mixed anew", "stop", "stop")
    places = [told for told in typed.said if told.endswith("of your mixed set.")]
    assert places == [f"Problem 1 of {n} of your mixed set." for n in (3, 3, 5)]


@pytest.mark.parametrize("count", ["0", "1", "13", "99999999999"])
def test_a_set_of_too_few_or_too_many_is_refused(count: str) -> None:
    typed = Typing(f"mixed {count}", "stop")
    assert "A mixed set has 2 to 12 problems." in typed.said
    assert set_kept(SHELF) is None


def test_the_command_opens_a_set_and_takes_it_up(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def no_more(_: str) -> str:
        raise EOFError

    monkeypatch.setattr("builtins.input", no_more)
    for call in (["3"], [], ["4", "--anew"]):
        assert main(["practise", "--mixed", *call, "--plain"]) == 0
        count = 4 if call[1:] else 3
        assert f"Problem 1 of {count} of your mixed set." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (["--mixed", "1"], "found '1'; expected 2 to 12 problems"),
        (["--mixed", "elbow"], "found 'elbow'; expected a whole number"),
        (["elbow-full-pail", "--mixed", "3"], "not allowed with"),
        (["--mixed", "3", "--seed", "7"], "found --seed too; expected --mixed without it"),
        (["--mixed", "3", "--find-slip"], "found --find-slip too; expected --mixed without it"),
        (["--mixed", "3", "--slips", "2"], "found --slips too; expected --mixed without it"),
        (["--mixed", "3", "--page", "x.html"], "found --page too; expected --mixed without it"),
        ([], "one of the arguments NAME --mixed is required"),
    ],
)
def test_a_wrong_call_is_told(
    call: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    try:
        code = main(["practise", *call, "--plain"])
    except SystemExit as ended:
        code = ended.code  # type: ignore[assignment]
    assert code == 2
    assert told in capsys.readouterr().err
    assert set_kept(SHELF) is None


def test_a_problem_of_the_set_that_is_finished_elsewhere_is_behind() -> None:
    """From the list of what is not finished, where nothing of the set is known."""
    typed = Typing(
        "mixed 2", "9.9 N", "stop", "go on", lambda: right_lines(0), "stop", "mixed", "stop",
        "stop",
    )  # fmt: skip
    assert typed.said.count("Problem 1 of 2 of your mixed set.") == 1
    assert typed.said.count("Problem 2 of 2 of your mixed set.") == 1
    assert kept().behind == 1
