"""A mixed set: no problem and no kind twice while others are left, reviews first, and its end."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, timedelta
from functools import cache, partial
from pathlib import Path

import pytest
from helpers.drill_sittings import right_entries
from helpers.made_up_workings import CARDS, NOW, SHELF, SKIPPED, allowed, worked
from helpers.material import CATALOGUE
from hypothesis import given, settings
from hypothesis import strategies as st
from leverstep.bench.practice import Practice
from leverstep.course.cards import Card
from leverstep.course.course_words import USUAL_WORDS
from leverstep.course.listing import ASKED, KINDS
from leverstep.course.shelf import Shelf
from leverstep.drill.mixed_items import SHORT
from leverstep.progress.export import as_data
from leverstep.progress.history import History
from leverstep.progress.mixed_drawing import count_of_lines, draw
from leverstep.progress.mixed_set import (
    MOST,
    MixedSet,
    SetProblem,
    forget_set,
    keep_set,
    set_kept,
)
from leverstep.progress.mixed_told import draw_set, read_set_end, set_end_told
from leverstep.progress.progress import progress_of
from leverstep.progress.replay import Worked
from leverstep.progress.review import Sign, by_kind, slip_figures
from leverstep.progress.suggestions import due_slips
from leverstep.progress.told import account, progress_report, spoken_report
from leverstep.working.guidance import Guidance

MADE, RIGHT, OTHER = Sign.MADE, Sign.RIGHT, Sign.OTHER
TODAY = NOW.date()
LINES = cache(partial(count_of_lines, shelf=SHELF, guidance=Guidance.LINES))
ALLOWED = cache(allowed(SHELF))
IDENTS = [card.id for card in SHELF.offered]


def drawn(history: Sequence[Worked], count: int, shelf: Shelf = SHELF) -> list[Card]:
    """Return the problems of a set."""
    problems = draw(History(tuple(history)), shelf, ALLOWED, LINES, TODAY, count)
    return [CARDS[one.ident] for one in problems]


@st.composite
def histories(draws: st.DrawFn) -> list[Worked]:
    """Draw up to eight workings of any problems, the earliest first."""
    lines = st.lists(st.sampled_from([MADE, RIGHT, OTHER]), min_size=1, max_size=8)
    days = draws(st.lists(st.integers(0, 40), max_size=8))
    return [
        worked(
            draws(st.sampled_from(IDENTS)),
            day,
            *((f"line{n}", sign) for n, sign in enumerate(draws(lines))),
        )
        for day in sorted(days, reverse=True)
    ]


@settings(deadline=None, max_examples=40)
@given(histories(), st.integers(2, MOST))
def test_a_set_repeats_no_problem_and_no_kind_while_others_are_left(
    history: list[Worked], count: int
) -> None:
    """Twelve kinds are on the shelf, so that no set of up to twelve has one twice."""
    cards = drawn(history, count)
    assert len(cards) == count
    assert len({card.id for card in cards}) == count
    assert len({card.asks for card in cards}) == count == len(ASKED[:count])
    assert all(not card.retired for card in cards)


@pytest.mark.parametrize("count", [3, 6, 9, 200])
def test_where_kinds_run_out_each_comes_again_before_any_a_third_time(count: int) -> None:
    """With the problems of three kinds alone; where there are no more problems it is shorter."""
    few = {"two forces", "mass", "distance"}
    cards = tuple(card for card in SHELF.cards if card.asks in few)
    shelf = replace(SHELF, cards=cards)
    found = drawn([], count, shelf)
    assert len(found) == len(set(found)) == min(count, len(shelf.offered))
    for place in range(1, len(found) + 1):
        times = Counter(dict.fromkeys(few, 0))
        times.update(card.asks for card in found[:place])
        fewest = min(times.values())
        least = {kind for kind in few if times[kind] == fewest}
        left = {card.asks for card in set(shelf.offered) - set(found[:place])}
        assert max(times.values()) - fewest <= 1 or not least & left


@settings(deadline=None, max_examples=40)
@given(histories(), st.integers(2, 6))
def test_a_set_is_drawn_the_same_for_the_same_records_and_day(
    history: list[Worked], count: int
) -> None:
    """The numbers too. A shorter one is the beginning of a longer one."""
    first, again = (
        draw(History(tuple(history)), SHELF, allowed(SHELF), LINES, TODAY, count) for _ in "ab"
    )
    longer = draw(History(tuple(history)), SHELF, ALLOWED, LINES, TODAY, count + 1)
    assert first == again == longer[:count]


def test_another_day_has_other_numbers() -> None:
    one, other = (
        draw(History(()), SHELF, ALLOWED, LINES, TODAY + timedelta(days=n), 5) for n in (0, 1)
    )
    assert {a.seed for a in one} & {b.seed for b in other} == set()


@settings(deadline=None, max_examples=40)
@given(histories(), st.integers(2, MOST))
def test_reviews_that_are_due_come_before_all_else(history: list[Worked], count: int) -> None:
    """The first problem is for the most overdue slip, wherever one can be made."""
    due = due_slips(slip_figures(History(tuple(history))), TODAY)
    cards = drawn(history, count)
    for_review = [any(slip.reason in ALLOWED(card) for slip in due) for card in cards]
    assert for_review[0] is bool(due)
    if due:
        assert due[0].reason in ALLOWED(cards[0])


def test_each_slip_that_is_due_is_met_the_most_overdue_first() -> None:
    """One problem does for two slips; those met already ask for no other."""
    known = ["conversion-skipped", "own-weight-left-out", "part-left-out-of-the-sum"]
    history = [
        worked("elbow-full-pail", 9 - n, ("W_l", MADE), slip=slip) for n, slip in enumerate(known)
    ]
    cards = drawn(history, 5)
    reasons = [CATALOGUE.slips[slip].reason for slip in known]
    met = [next(n for n, card in enumerate(cards) if r in ALLOWED(card)) for r in reasons]
    assert met == sorted(met)
    assert max(met) < len(known)


def test_what_was_slipped_on_most_and_what_was_never_met_come_before_what_goes_well() -> None:
    """A kind with most lines wrong, then kinds never met, and last one that is always right."""
    wrong = [(f"line{n}", OTHER) for n in range(10)]
    right = [(f"line{n}", RIGHT) for n in range(10)]
    history = [
        worked("plain-seesaw-where", 3, *wrong),
        worked("elbow-full-pail", 2, *right),
    ]
    kinds = [card.asks for card in drawn(history, MOST)]
    assert kinds[0] == "distance"
    assert kinds[-1] == "effort"


def test_what_is_drawn_is_short_and_not_what_was_worked_already() -> None:
    """Wherever its kind has a short problem, which each has; joints differ too."""
    cards = drawn([], MOST)
    short = {card.asks for card in SHELF.offered if LINES(card) <= SHORT}
    assert short == set(KINDS)
    assert all(LINES(card) <= SHORT for card in cards)
    assert len({card.joint for card in cards[:5]}) == 5
    again = drawn([worked(card.id, 1, ("line", RIGHT)) for card in cards], MOST)
    only = Counter(card.asks for card in SHELF.offered if LINES(card) <= SHORT)
    assert all(card not in cards for card in again if only[card.asks] > 1)


def test_every_kind_there_is_has_a_name_that_a_student_understands() -> None:
    assert {card.asks for card in SHELF.offered} <= set(KINDS)
    assert USUAL_WORDS.kind("net moment") == "net moment at a joint"
    assert len(set(KINDS.values())) == len(KINDS)


def test_a_set_is_kept_and_taken_up_where_it_was(tmp_path: Path) -> None:
    problems = (SetProblem("elbow-full-pail", "11"), SetProblem("plain-seesaw", "12"))
    mixed = MixedSet(NOW, Guidance.LANDMARKS, problems)
    assert set_kept(SHELF, tmp_path) is None
    keep_set(mixed, tmp_path)
    assert set_kept(SHELF, tmp_path) == mixed
    assert mixed.place_told == "Problem 1 of 2"
    further = mixed.passed()
    keep_set(further, tmp_path)
    found = set_kept(SHELF, tmp_path)
    assert found == further
    assert found.at_hand == problems[1]
    assert found.is_last
    assert found.passed().at_hand is None
    forget_set(tmp_path)
    assert set_kept(SHELF, tmp_path) is None


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("elbow-full-pail", "nowhere"),
        ('"behind": 0', '"behind": 3'),
        ('"behind": 0', '"behind": true'),
        ('"behind": 0', '"behind": -1'),
        ("landmarks", "mountains"),
        ('"11"', '"\\u0007"'),
        ("2027", "20x7"),
        ("{", "["),
        ('"problems"', '"others"'),
    ],
)
def test_what_another_hand_wrote_is_no_set(old: str, new: str, tmp_path: Path) -> None:
    problems = (SetProblem("elbow-full-pail", "11"), SetProblem("plain-seesaw", "12"))
    keep_set(MixedSet(NOW, Guidance.LANDMARKS, problems), tmp_path)
    place = tmp_path / "mixed.json"
    text = place.read_text()
    assert old in text
    place.write_text(text.replace(old, new, 1))
    assert set_kept(SHELF, tmp_path) is None


def test_at_its_end_a_set_tells_which_kinds_went_well_and_what_is_next() -> None:
    """Only workings since it was begun count; a problem not worked is named."""
    names = ("plain-seesaw-where", "knee-kneecap", "plain-door-push", "plain-lamp-two-cords")
    begun = NOW - timedelta(days=1)
    mixed = MixedSet(begun, Guidance.LINES, tuple(SetProblem(name, "7") for name in names))
    right = [(f"line{n}", RIGHT) for n in range(4)]
    half = [("line0", RIGHT), ("line1", OTHER)]
    history = [
        worked("plain-lamp-two-cords", 5, *right),
        worked("plain-seesaw-where", 0, *right),
        replace(worked("knee-kneecap", 0, *half), finished=False),
        worked("plain-door-push", 0, *half, ("line2", OTHER)),
    ]
    told = list(set_end_told(mixed, History(tuple(history)), SHELF))
    assert told[:4] == [
        "Your mixed set: 2 of 4 problems worked to the end, 6 of 9 lines right first time.",
        "Went well: where a force acts, 4 of 4 lines right first time.",
        "Not yet: joint reaction alone, 1 of 2 lines right first time, not to the end; "
        "moments of forces, 1 of 3 lines right first time.",
        "Not worked: two unknown forces.",
    ]
    assert told[4].startswith("Next: ")
    assert told[4].endswith("for more of this kind: two unknown forces.")
    assert len(told) == 5


def test_a_set_that_went_well_leads_to_another() -> None:
    mixed = MixedSet(NOW - timedelta(days=1), Guidance.LINES, (SetProblem("plain-seesaw", "7"),))
    history = History((worked("plain-seesaw", 0, ("line", RIGHT)),))
    assert "another mixed set" in list(set_end_told(mixed, history, SHELF))[-1]


def test_a_set_is_drawn_and_told_by_the_records_of_a_folder(tmp_path: Path) -> None:
    """What is worked in it is a practice as any other, and tells how the set went."""
    mixed = draw_set(SHELF, CATALOGUE, NOW, 3, data=tmp_path)
    assert mixed == draw_set(SHELF, CATALOGUE, NOW, 3, data=tmp_path)
    first = mixed.at_hand
    assert first is not None
    practice = Practice.start(
        SHELF.problems[first.ident], first.seed, CATALOGUE, tmp_path / "practice"
    )
    for key, entry in right_entries(practice.question).items():
        practice.enter(key, entry)
    assert practice.working.complete
    later = replace(mixed, begun=NOW.astimezone(UTC) - timedelta(days=400))
    told = read_set_end(later, SHELF, CATALOGUE, NOW, tmp_path)
    assert told[0].startswith("Your mixed set: 1 of 3 problems worked to the end")
    assert told[1].startswith(f"Went well: {KINDS[CARDS[first.ident].asks]}, ")


def test_kinds_have_figures_of_their_own() -> None:
    history = [
        worked("plain-seesaw-where", 3, ("a", RIGHT), ("b", OTHER)),
        worked("elbow-full-pail", 2, ("a", RIGHT)),
        worked("plain-seesaw", 1, ("a", MADE), slip=SKIPPED.id),
    ]
    figures = {kind: (one.lines, one.right) for kind, one in by_kind(History(tuple(history)))}
    assert figures == {"effort": (2, 1), "distance": (2, 1)}
    assert list(figures) == sorted(figures, key=ASKED.index)


def test_progress_tells_kinds_in_words_the_least_right_first_and_for_the_ear() -> None:
    """A share only where lines are enough; all of it in the figures of the screen too."""
    ten = [(f"line{n}", RIGHT if n < 4 else OTHER) for n in range(10)]
    history = [
        worked("plain-seesaw", 4, *((f"line{n}", RIGHT) for n in range(12))),
        worked("knee-kneecap", 3, ("a", RIGHT)),
        worked("plain-seesaw-where", 2, *ten),
    ]
    progress = progress_of(History(tuple(history)), SHELF, CATALOGUE, NOW, ALLOWED)
    for told in (progress_report(progress), account(progress)):
        rows = [" ".join(line.split()) for line in told.splitlines()]
        assert "Where a force acts 1 10 4 40 %" in rows
        assert "Muscle force or effort 1 12 12 100 %" in rows
        assert "Joint reaction alone 1 1 1 too few to tell" in rows
        assert told.index("Where a force acts") < told.index("Muscle force or effort")
        assert told.index("Muscle force or effort") < told.index("Joint reaction alone")
    heard = spoken_report(progress)
    assert "Where a force acts. Begun: 1; lines: 10; right first time: 4; share: 40 %." in heard
    assert as_data(progress)["practised"]["kinds"] == [  # type: ignore[index]
        {"asks": kind, "workings_begun": 1, "workings_finished": 1, "lines": n, "lines_right": r}
        for kind, n, r in (("effort", 12, 12), ("distance", 10, 4), ("reaction", 1, 1))
    ]
