"""The list of problems: where one starts, what is marked, narrowed and searched for."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from leverstep.bench.kept_workings import KeptWorkings, Unfinished, kept_workings
from leverstep.bench.practice import Practice
from leverstep.course.course_plan import Week
from leverstep.course.shelf import load_shelf
from leverstep.progress.problem_list import ListSection, ProblemList, Suggested
from leverstep.progress.problem_told import about
from leverstep.progress.suggested import suggested_now

SHELF = load_shelf()
PLANNED = replace(
    SHELF,
    weeks=(
        Week("Week 1: levers", ("plain-seesaw", "plain-crowbar")),
        Week("Week 2: the arm", ("elbow-pail-of-water", "plain-crowbar")),
    ),
)
NOTHING = KeptWorkings()


def aged(record: Path, days: int) -> None:
    """Have a record of today been written some days ago."""
    now = datetime.now(UTC)
    text, ago = record.read_text("utf-8"), now - timedelta(days=days)
    record.write_text(text.replace(f'"{now:%Y-%m-%d}T', f'"{ago:%Y-%m-%d}T'), "utf-8")


def ids(sections: tuple[ListSection, ...]) -> list[str]:
    return [one.card.id for section in sections for one in section.problems]


def new_list(planned: bool = False, kept: KeptWorkings | None = NOTHING) -> ProblemList:
    problems = ProblemList(PLANNED if planned else SHELF)
    problems.kept = kept
    return problems


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    return tmp_path


def test_who_is_new_starts_with_an_easy_problem_and_nobody_else() -> None:
    start = new_list().start
    assert start is not None
    assert (start.difficulty, start.joint, start.units) == (1, "plain", "SI")
    assert new_list(kept=None).start is None, "it is not known yet whether something was worked"
    assert new_list(kept=KeptWorkings(done=frozenset({"plain-crowbar"}))).start is None
    assert new_list(planned=True).start is SHELF.cards[[c.id for c in SHELF.cards].index(
        "plain-seesaw")], "the first of the course"  # fmt: skip


def test_without_a_plan_every_problem_is_listed_once_by_joint() -> None:
    sections = new_list().sections()
    assert sorted(ids(sections)) == sorted(card.id for card in SHELF.offered)
    assert {"Elbow", "Plain levers", "Lumbar spine"} < {one.heading for one in sections}


def test_with_a_plan_the_weeks_come_first_and_all_others_last() -> None:
    first, second, rest = new_list(planned=True).sections()
    assert (first.heading, ids((first,))) == ("Week 1: levers", ["plain-seesaw", "plain-crowbar"])
    assert ids((second,)) == ["elbow-pail-of-water", "plain-crowbar"]
    assert len(ids((rest,))) == len(SHELF.offered) - 3
    assert rest.heading == "Not in the plan of the course"


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("pail of", ["elbow-pail-of-water"]),
        ("PAIL  water", ["elbow-pail-of-water"]),
        (
            "wrist",
            [
                "elbow-kettlebell",
                "wrist-flat-tray",
                "wrist-bell-held-still",
                "wrist-bent-hand",
                "wrist-hammer",
                "wrist-then-elbow",
                "wrist-rolling-pin",
                "wrist-trowel-of-soil",
            ],
        ),
        ("week 2", ["plain-crowbar", "elbow-pail-of-water"]),
        ("[red]", []),
    ],
)
def test_letters_search_titles_joints_and_weeks(typed: str, found: list[str]) -> None:
    problems = new_list(planned=True)
    problems.search = typed
    assert list(dict.fromkeys(ids(problems.sections()))) == found
    assert problems.start is None
    problems.show_all()
    assert problems.is_whole


def test_a_list_is_narrowed_from_value_to_value_and_back_to_all() -> None:
    problems = new_list()
    met = []
    for _ in range(4):
        problems.narrow("level")
        met.append(problems.narrowed.get("level", "all"))
        levels = {o.card.difficulty for s in problems.sections() for o in s.problems}
        assert levels == {1, 2, 3} if problems.is_whole else levels == {int(met[-1])}
    assert met == ["1", "2", "3", "all"]


def test_what_is_due_begun_and_done_is_marked_in_words() -> None:
    problems = new_list(kept=KeptWorkings(done=frozenset({"plain-seesaw"})))
    problems.suggested = (Suggested("plain-seesaw", "for a slip (due today)", "a slip", True),)
    card = problems.card("plain-seesaw")
    assert card is not None
    assert problems.listed(card).marks == ("due", "done")
    told = list(about(card, problems))
    assert "Due for review, done." in told
    assert "Due for a slip (due today)." in told
    assert card.about in told
    assert "{" not in card.about
    assert problems.due == problems.suggested
    problems.search = "crowbar"
    assert problems.due == ()


def test_what_is_unfinished_is_listed_as_begun_unless_it_is_taken_off() -> None:
    practice = Practice.start(SHELF.problems["plain-crowbar"], "1", CATALOGUE)
    practice.enter(practice.working.steps[0].key, "5 N")
    problems = new_list(kept=kept_workings(SHELF))
    card = problems.card("plain-crowbar")
    assert card is not None
    assert problems.listed(card).marks == ("begun",)
    assert practice.record_note is not None
    practice.record_note.hide(True)
    problems.kept = kept_workings(SHELF)
    assert problems.unfinished() == ()
    assert [one.path for one in problems.unfinished(every_one=True)] == [practice.place]


def test_of_each_problem_the_latest_working_is_to_be_gone_on_with() -> None:
    """The others are kept, and it is their turn when that is taken off the list."""
    latest, other, first = (
        Unfinished(Path(name), SHELF.problems[name], seed, 1)
        for name, seed in (("plain-crowbar", "2"), ("plain-seesaw", "1"), ("plain-crowbar", "1"))
    )
    problems = new_list(kept=KeptWorkings((latest, other, first)))
    assert problems.unfinished() == (latest, other)
    assert problems.unfinished(every_one=True) == (latest, other, first)
    problems.kept = KeptWorkings((other, first), hidden=(latest,))
    assert problems.unfinished() == (other, first)


def test_what_was_worked_at_last_is_first_whenever_it_was_begun() -> None:
    for seed in ("1", "2"):
        practice = Practice.start(SHELF.problems["plain-crowbar"], seed, CATALOGUE)
        practice.enter(practice.working.steps[0].key, "5 N")
        assert practice.place is not None
        begun = practice.place.rename(practice.place.with_name(f"2026010{seed}T120000-a.jsonl"))
        if seed == "2":
            aged(begun, 1)
    assert [one.seed for one in kept_workings(SHELF).unfinished] == ["1", "2"]


def test_a_problem_that_is_due_is_suggested_with_the_reason() -> None:
    """Pounds times g, three days ago."""
    practice = Practice.start(SHELF.problems["elbow-tilted-forearm"], "7", CATALOGUE)
    practice.enter("W_f", "31.39 N")
    assert practice.place is not None
    aged(practice.place, 3)
    (due, *_) = suggested_now(SHELF, CATALOGUE)
    assert due.is_due
    assert "not converted to kilograms (due for 2 days)" in due.why


def test_what_a_card_says_of_the_own_body_are_the_limits_of_the_file() -> None:
    for card in SHELF.cards:
        problem = SHELF.problems[card.id]
        assert bool(card.limits) == bool(problem.own)
        for low, high in problem.own.values():
            assert f"{float(low):g} to {float(high):g}" in card.limits
