"""The tour: what is told in it, that it is judged as any line, and that nothing is kept of it."""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import wrap

import pytest
from helpers.material import CATALOGUE
from leverstep.course.shelf import Shelf, load_shelf
from leverstep.dialogue.first_start import is_first_start, note_tour
from leverstep.dialogue.tour import LINE, PROBLEM, Shows, Tour, TourWords
from leverstep.statics.kinds import MOMENT

SHELF = load_shelf()
WORDS = TourWords("press F2", "Enter goes on.")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the user's data of somebody who is new here."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    return tmp_path


def tour() -> Tour:
    return Tour(SHELF.problems[PROBLEM], CATALOGUE, WORDS)


def to_type(taken: Tour) -> list[str]:
    """Return what a step tells to type, either of which will do."""
    (line,) = [part for part in taken.told.split("\n") if ":  " in part]
    return line.partition(":  ")[2].split("   or  ")


def taken_to(shows: Shows) -> Tour:
    """Return the tour at a step, as told all the way."""
    taken = tour()
    while taken.shows is not shows:
        if taken.shows is Shows.HINT:
            taken.hint()
        else:
            taken.enter(to_type(taken)[0])
    return taken


def test_its_line_is_a_moment_with_a_minus_sign_of_an_easy_problem() -> None:
    question = tour().question
    step = question.derivation.step(LINE)
    assert step.kind is MOMENT
    assert question.right[LINE] < 0
    assert question.problem.posture.positive == 1, "the tour says that anticlockwise is"
    assert question.problem.difficulty == 1
    assert question.problem.axis == "axle"


def test_each_step_is_told_in_less_than_five_lines_of_a_narrow_screen() -> None:
    for shows in Shows:
        taken = taken_to(shows)
        rows = [row for part in taken.told.split("\n") for row in wrap(part, 76)]
        assert 2 <= len(rows) < 5, shows
        assert "{" not in taken.told
        assert taken.place == f"Step {[*Shows].index(shows) + 1} of 6"


def test_as_told_it_shows_what_it_says() -> None:
    """Unit, sign and hint: each is told by what the tutor says to what it asks to be typed."""
    taken = tour()
    (unit,) = taken.enter(to_type(taken)[0]).told
    assert unit.startswith("Not judged: the unit is missing")
    (sign,) = taken.enter(to_type(taken)[0]).told
    assert sign.startswith("Not yet.")
    assert "sign" in sign
    (hint,) = taken.hint().told
    assert hint.startswith("Hint 1 of")
    (right,) = taken.enter(to_type(taken)[0]).told
    assert right.startswith("Right.")
    symbols, comma = to_type(taken)
    assert re.fullmatch(r"-\w+\*\w+", symbols)
    assert re.fullmatch(r"-\d+,\d+ N m", comma)
    assert taken.enter(symbols).told[0].startswith("Right.")
    assert taken.is_at_end


def test_the_comma_will_do_as_well_as_the_symbols() -> None:
    taken = taken_to(Shows.SYMBOLS)
    reply = taken.enter(to_type(taken)[1])
    assert reply.told[0].startswith("Right.")
    assert taken.is_at_end


@pytest.mark.parametrize("shows", [Shows.TYPING, Shows.UNIT, Shows.HINT, Shows.SIGN])
def test_a_right_line_at_once_leaves_out_what_leads_there(shows: Shows) -> None:
    right = to_type(taken_to(Shows.SIGN))[0]
    taken = taken_to(shows)
    assert taken.enter(right).moved_on
    assert taken.shows is Shows.SYMBOLS


def test_enter_alone_says_what_to_do_and_once_more_goes_on_from_every_step() -> None:
    taken = tour()
    seen = [taken.shows]
    while not taken.is_at_end:
        reply = taken.enter("  ")
        assert (reply.moved_on, taken.shows) == (False, seen[-1])
        assert reply.told == (
            taken.told.split("\n")[-1],
            "Enter once more goes on without that.",
        )
        assert re.match("Type|For a hint", reply.told[0])
        assert taken.enter("").moved_on
        seen.append(taken.shows)
    assert seen == [*Shows]


def test_what_is_typed_in_between_has_enter_alone_say_it_again() -> None:
    taken = taken_to(Shows.UNIT)
    taken.enter("")
    taken.enter("hello")
    assert not taken.enter("").moved_on
    assert taken.go_on().moved_on


def test_what_is_not_what_was_meant_is_answered_and_the_step_stays() -> None:
    taken = taken_to(Shows.UNIT)
    for typed in ("hello", "12", "W_s = 3 N", "F_h = 12.3 N", "\x1b[2J", "x" * 500):
        reply = taken.enter(typed)
        assert reply.told
        assert reply.typed == typed
        assert not reply.moved_on or taken.shows is not Shows.UNIT
    wrong = taken_to(Shows.SIGN)
    assert wrong.enter("12.3 N m").told[0].startswith("Not yet")
    assert wrong.shows is Shows.SIGN
    assert wrong.hint().told[0].startswith("Hint 1")
    assert wrong.shows is Shows.SIGN


def test_after_the_end_nothing_more_is_entered() -> None:
    taken = taken_to(Shows.END)
    assert taken.enter("1 N m").told == taken.hint().told == ("The tour is at its end.",)
    assert WORDS.onward in taken.told


def test_nothing_is_kept_of_it(home: Path) -> None:
    taken_to(Shows.END)
    assert not [*home.iterdir()]
    assert is_first_start(), "only a face notes that it was shown"


def test_who_has_seen_it_or_practised_is_not_new(home: Path) -> None:
    assert is_first_start()
    note_tour()
    assert not is_first_start()
    (home / "tour").write_text("perhaps\n", encoding="utf-8")
    assert is_first_start()
    (home / "practice").mkdir()
    assert is_first_start()
    (home / "practice" / "a.jsonl").write_text("{}", encoding="utf-8")
    assert not is_first_start()


def test_where_nothing_can_be_noted_nothing_fails(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (home / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv("LEVERSTEP_HOME", str(home / "file"))
    note_tour()
    assert is_first_start()


def test_the_first_problem_is_an_easy_one() -> None:
    first = SHELF.first
    assert first is not None
    assert first.difficulty == min(card.difficulty for card in SHELF.cards)
    assert first.id != PROBLEM, "it is no problem that the tour has shown"
    assert Shelf((), {}, ()).first is None
