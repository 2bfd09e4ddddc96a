"""Where to go on from a working: another kind of problem, and one for the slip that was made."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_sittings import right_entry
from helpers.made_up_workings import CARDS, NOW, SHELF, SKIPPED, allowed, worked
from helpers.material import CATALOGUE
from leverstep.bench.practice import Practice
from leverstep.course.cards import Card
from leverstep.course.shelf import Shelf
from leverstep.dialogue.lookback import slips_to_remember
from leverstep.progress.history import History
from leverstep.progress.onward import WaysOn, read_ways_on, ways_on
from leverstep.progress.replay import Worked
from leverstep.progress.review import Sign
from leverstep.slips.catalogue import Slip

PAIL = "elbow-pail-of-water"
OWN_WEIGHT = CATALOGUE.slips["own-weight-left-out"]


def after(*workings: Worked, slips: tuple[Slip, ...] = (), shelf: Shelf = SHELF) -> WaysOn:
    """Return the ways on from the last of some workings."""
    done = workings[-1].card
    return ways_on(done, slips, History(workings), shelf, allowed(shelf), NOW.date())


def shelf_of(*names: str) -> Shelf:
    return replace(SHELF, problems={n: SHELF.problems[n] for n in names}, cards=cards(*names))


def cards(*names: str) -> tuple[Card, ...]:
    return tuple(CARDS[name] for name in names)


def test_another_problem_is_of_the_same_joint_and_no_easier() -> None:
    way = after(worked(PAIL, 0, ("W_f", Sign.RIGHT))).another
    assert way is not None
    assert (way.card.joint, way.card.difficulty) == ("elbow", 1)
    assert way.card.id != PAIL
    assert way.told == f"{way.card.title} (Elbow, level 1), at the same joint"


def test_level_by_level_and_then_on_to_other_joints_until_all_is_worked() -> None:
    """No problem comes twice before each was worked once; the one worked longest ago comes then."""
    day, done = len(SHELF.offered) + 1, [worked(PAIL, len(SHELF.offered) + 1, ("W_f", Sign.RIGHT))]
    levels = []
    while len(done) < len(SHELF.offered):
        way = after(*done).another
        assert way is not None
        assert way.card.id not in {one.card.id for one in done}
        if way.card.joint == "elbow":
            assert len(done) == len(levels) + 1
            levels.append(way.card.difficulty)
        day -= 1
        done.append(worked(way.card.id, day, ("W_f", Sign.RIGHT)))
    assert levels == sorted(levels)
    assert len(levels) == sum(card.joint == "elbow" for card in SHELF.offered) - 1
    last = after(*done).another
    assert last is not None
    assert (last.card.id, last.why) == (PAIL, "not worked for the longest time")


def test_a_slip_of_an_earlier_day_that_is_due_comes_first() -> None:
    way = after(
        worked("knee-stool-hold", 9, ("W_s", Sign.MADE), slip=OWN_WEIGHT.id),
        worked(PAIL, 0, ("W_f", Sign.RIGHT)),
    ).another
    assert way is not None
    assert way.why == f"for a slip that is due: {OWN_WEIGHT.name}"
    assert OWN_WEIGHT.reason in allowed(SHELF)(way.card)


@pytest.mark.parametrize("name", [PAIL, "hip-leg-raise", "plain-wheelbarrow", "neck-helmet"])
@pytest.mark.parametrize("slip", [SKIPPED, OWN_WEIGHT], ids=["units", "moments"])
def test_a_problem_for_a_slip_is_another_one_as_hard_that_has_it(name: str, slip: Slip) -> None:
    done = worked(name, 0, ("W_f", Sign.MADE), slip=slip.id)
    way = after(done, slips=(slip,)).for_slip
    assert way is not None
    assert way.card.id != name
    assert slip.reason in allowed(SHELF)(way.card)
    nearer = [
        card
        for card in SHELF.cards
        if abs(card.difficulty - done.card.difficulty)
        < abs(way.card.difficulty - done.card.difficulty)
    ]
    assert not [c for c in nearer if c.id != name and slip.reason in allowed(SHELF)(c)]
    assert way.why == f"for the slip: {slip.name}"


def test_where_no_slip_was_made_or_nothing_else_is_there_no_way_is_told() -> None:
    done = worked(PAIL, 0, ("W_f", Sign.RIGHT))
    assert after(done).for_slip is None
    assert after(done, shelf=shelf_of(PAIL)) == WaysOn(None, None)
    ratio = CATALOGUE.slips["ratio-upside-down"]
    two = shelf_of(PAIL, "plain-door-push")  # a gate has no ratio to turn upside down
    assert after(done, slips=(ratio,), shelf=two).for_slip is None


def test_the_ways_follow_from_what_is_on_the_disk(tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems[PAIL], "7", CATALOGUE, tmp_path / "practice")
    practice.enter("W_f", f"{practice.question.right['W_f'] / 9.81:.4g} N")
    for step in practice.working.steps:
        practice.enter(step.key, right_entry(practice.question, step))
    made = [slip for one in slips_to_remember(practice) for slip in one.slips]
    assert made
    ways = read_ways_on(CARDS[PAIL], made, (SHELF, CATALOGUE), datetime.now(UTC), tmp_path)
    assert ways.another is not None
    assert ways.another.card.joint == "elbow"
    assert ways.for_slip is not None
    assert made[0].name in ways.for_slip.told
