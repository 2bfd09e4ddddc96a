"""A problem that changed gets a new id; as it was, it stays for what was begun with it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from helpers.drill_sittings import right_entries
from helpers.made_up_workings import NOW, SHELF, SKIPPED, allowed, worked
from helpers.material import CATALOGUE
from leverstep.bench.kept_workings import kept_workings
from leverstep.bench.practice import Practice
from leverstep.course.cards import card_of
from leverstep.course.faults import FileError
from leverstep.course.problem_file import problem_of
from leverstep.course.shelf import Shelf, load_shelf
from leverstep.progress.history import History
from leverstep.progress.onward import ways_on
from leverstep.progress.problem_list import ProblemList
from leverstep.progress.review import Sign
from leverstep.progress.suggestions import Chooser
from leverstep.working.verdict import Outcome

RETIRED = [card.id for card in SHELF.cards if card.retired]
PAIL = "elbow-pail-of-water"


def offering(*names: str) -> Shelf:
    """Return the shelf with all problems retired but some."""
    return replace(
        SHELF, cards=tuple(replace(card, retired=card.id not in names) for card in SHELF.cards)
    )


def test_what_is_retired_is_on_no_list_and_everything_else_is() -> None:
    offered = {card.id for card in SHELF.offered}
    assert RETIRED
    assert offered | set(RETIRED) == set(SHELF.problems)
    assert not offered & set(RETIRED)
    listed = {one.card.id for part in ProblemList(SHELF).sections() for one in part.problems}
    assert listed == offered
    for joint in {card.joint for card in SHELF.cards}:
        of_joint = ProblemList(SHELF).joint(joint)[0].problems
        assert {one.card.id for one in of_joint} == {
            c.id for c in SHELF.offered if c.joint == joint
        }


def test_who_is_new_is_not_led_to_what_is_retired() -> None:
    problems = ProblemList(offering(PAIL))
    problems.kept = kept_workings(SHELF)
    assert problems.start is not None
    assert problems.start.id == PAIL


def test_nothing_retired_is_suggested_after_a_working() -> None:
    """However well it would fit: of the same joint, not worked, with the slip that was made."""
    others = [card.id for card in SHELF.cards if card.joint != "elbow"][:2]
    shelf = offering(PAIL, *others)
    done = worked(PAIL, 3, ("W_f", Sign.MADE))
    ways = ways_on(done.card, (SKIPPED,), History((done,)), shelf, allowed(shelf), NOW.date())
    named = [way.card.id for way in (ways.another, ways.for_slip) if way is not None]
    assert named
    assert set(named) <= {PAIL, *others}
    new = Chooser(History((done,)), shelf, allowed(shelf)).something_new()
    assert [one.card.id in others for one in new] == [True]


@pytest.mark.parametrize("name", RETIRED)
def test_what_was_begun_with_it_goes_on(name: str, tmp_path: Path) -> None:
    """It opens by its name, and a record of it is gone on with and judged by its own numbers."""
    question = SHELF.find(name).question("7")
    practice = Practice.start(question.problem, "7", CATALOGUE, tmp_path)
    right = right_entries(question)
    first, *later = right
    practice.enter(first, right[first])
    assert practice.place is not None
    again = Practice.resume(practice.place, load_shelf(), CATALOGUE)
    for key in later:
        again.enter(key, right[key])
    verdicts = {key: line.verdict.outcome for key, line in again.working.lines.items()}
    assert verdicts == dict.fromkeys(right, Outcome.RIGHT)


def test_whether_a_problem_is_retired_is_true_or_false() -> None:
    text = (SHELF.problems[PAIL].path or Path()).read_text("utf-8")
    changed = text.replace("\ntitle", '\nretired = "since autumn"\ntitle', 1)
    with pytest.raises(FileError, match="retired: found 'since autumn'; expected true or false"):
        problem_of(changed, Path(f"{PAIL}.toml"), PAIL)
    kept = problem_of(
        text.replace("\ntitle", "\nretired = true\ntitle", 1), Path(f"{PAIL}.toml"), PAIL
    )
    assert kept.retired
    assert card_of(kept).retired
