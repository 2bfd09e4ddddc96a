"""Rows of a class from made-up states: who to go to next, why, and what is told of the class."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from helpers.drill_sittings import END, entry, hint, record, right_entries
from helpers.drills import SHELF, drill_with
from helpers.material import CATALOGUE
from leverstep.bench.contents import contents
from leverstep.drill.allowance import Allowance
from leverstep.drill.drill import Drill, Feedback
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.watching.class_at_work import (
    LONG,
    MANY,
    VERY_LONG,
    ClassAtWork,
    Need,
    class_at_work,
)
from leverstep.watching.sitting_state import SLIP_TO_FIND, LineAtHand, SittingState, SlipMade
from leverstep.watching.watch_told import (
    called,
    counts_told,
    lines_told,
    news,
    slips_told,
    troubles_told,
    why_told,
)
from leverstep.watching.watched_sitting import WatchedSitting

DRILL = replace(
    drill_with("minutes = 45"),
    students={"s01": "Ida Example", "s02": "Odo Example", "s03": "Uma Example", "s04": ""},
)
NOW = datetime(2027, 3, 1, 9, 30, tzinfo=UTC)
BEGUN = NOW - timedelta(minutes=30)
FORCE, LOAD = LineAtHand(1, "F_m"), LineAtHand(2, "W_l")
AT_WORK = SittingState(
    "s01", BEGUN, NOW, NOW, used=1500.0, at=FORCE, came=1140.0, stepped=1140.0, done=3, asked=9
)
STUCK = replace(AT_WORK, wrong=4, slips=(SlipMade("sign of a moment", FORCE, 1300.0),))
FINE = replace(AT_WORK, came=1450.0, stepped=1450.0)


def seen(*states: SittingState, drill: Drill = DRILL, now: datetime = NOW) -> ClassAtWork:
    return class_at_work(drill, states, now)


@pytest.mark.parametrize(
    ("state", "need", "why"),
    [
        (STUCK, Need.STUCK, "4 wrong tries at F_m of task 1, 6 min: sign of a moment"),
        (
            replace(FINE, wrong=1, unread=1, hints=1, stepped=1300.0),
            Need.STUCK,
            "1 wrong try, 1 line not read and 1 hint at F_m of task 1, less than a minute, "
            "nothing right for 3 min",
        ),
        (replace(AT_WORK, hints=1), Need.STUCK, "1 hint at F_m of task 1, 6 min"),
        (replace(FINE, wrong=1), Need.TRYING, "1 wrong try at F_m of task 1, less than a minute"),
        (
            replace(AT_WORK, came=960.0, stepped=900.0),
            Need.SLOW,
            "nothing right for 10 min, at F_m of task 1",
        ),
        (
            replace(FINE, used=2500.0, came=2430.0, stepped=2430.0),
            Need.SHORT_OF_TIME,
            "at F_m of task 1, 1 min; 3 min left for 6 lines",
        ),
        (FINE, Need.WORKING, "at F_m of task 1, less than a minute"),
        (
            replace(FINE, seen=NOW - timedelta(minutes=4)),
            Need.NO_SIGN,
            "no sign for 4 min, at F_m of task 1",
        ),
        (replace(FINE, at=None), Need.DONE, "all lines are done; not handed in"),
        (
            replace(FINE, used_up=(FORCE, LOAD)),
            Need.WORKING,
            "at F_m of task 1, less than a minute; no try left at F_m of task 1 and W_l of task 2",
        ),
        (
            replace(STUCK, is_away=True, seen=NOW - timedelta(minutes=4)),
            Need.AWAY,
            "away for 4 min, at F_m of task 1",
        ),
        (replace(STUCK, is_ended=True), Need.HANDED_IN, "handed in"),
    ],
)
def test_each_need_is_seen_and_told_in_words(state: SittingState, need: Need, why: str) -> None:
    row = seen(state).rows[0] if need < Need.NOT_BEGUN else seen(state).rows[-1]
    assert (row.need, why_told(row, 2)) == (need, why)


def test_the_next_to_go_to_is_on_top() -> None:
    """By need, then by tries and time; who has not begun and who handed in come last."""
    quick = replace(STUCK, student="s02", wrong=MANY, came=1480.0, stepped=1480.0)
    ended = replace(STUCK, student="s04", is_ended=True)
    now = seen(ended, replace(FINE, student="x9"), quick, STUCK)
    assert [(row.student, row.need) for row in now.rows] == [
        ("s01", Need.STUCK),
        ("s02", Need.STUCK),
        ("x9", Need.WORKING),
        ("s03", Need.NOT_BEGUN),
        ("s04", Need.HANDED_IN),
    ]
    told = ["Ida Example", "Odo Example", "x9 (not on the roster)", "Uma Example", "s04"]
    assert [called(row) for row in now.rows] == told
    assert counts_told(now) == "3 at work, 1 handed in, 1 not begun"


def test_time_runs_on_from_look_to_look_only_while_the_sitting_does() -> None:
    """A clock of a student's computer that is an hour wrong changes nothing."""
    wrong_clock = replace(AT_WORK, begun=BEGUN - timedelta(hours=1), last=NOW - timedelta(hours=1))
    later = NOW + timedelta(seconds=20)
    for state in (AT_WORK, wrong_clock):
        row = seen(state, now=later).rows[0]
        assert (row.here, row.left) == (380.0, 60 * 45 - 1520.0)
    gone = seen(AT_WORK, now=NOW + timedelta(hours=1)).rows[0]
    assert (gone.here, gone.left, gone.need) == (360.0, 1200.0, Need.NO_SIGN)
    assert LONG < VERY_LONG


def test_exceptions_give_more_time_and_excuse() -> None:
    more = Allowance("extra time", minutes=60)
    drill = replace(DRILL, allowances={"s01": more, "s02": Allowance("ill", excused=True)})
    now = seen(FINE, drill=drill)
    assert now.rows[0].left == 60 * 60 - 1500.0
    assert "s02" not in [row.student for row in now.rows]


def test_slips_are_those_made_now_by_students_at_lines() -> None:
    made = SlipMade("sign of a moment", FORCE, 1400.0)
    elsewhere = SlipMade("sign of a moment", LOAD, 1400.0)
    old = SlipMade("sine for cosine", LOAD, 100.0)
    now = seen(
        replace(STUCK, slips=(made, old)),
        replace(STUCK, student="s02", slips=(made, elsewhere)),
        replace(STUCK, student="s03", slips=(made,), is_ended=True),
    )
    assert slips_told(now) == [
        "sign of a moment: 2 students, at F_m of task 1 (2) and W_l of task 2 (1)"
    ]
    assert lines_told(now) == ["F_m of task 1: 2 students, 2 stuck, the longest for 6 min"]
    assert slips_told(seen(replace(STUCK, slips=(made,)))) == ["1 slip, made by only one student"]
    assert slips_told(seen(FINE)) == ["No slip is made by several students now"]


def test_news_is_what_is_new_and_names_nobody_where_none_is_to_be_named() -> None:
    made = SlipMade("sign of a moment", FORCE, 1400.0)
    before = seen(FINE, replace(FINE, student="s02"))
    assert news(before, before, with_names=True) == []
    stuck = replace(STUCK, slips=(made,))
    now = seen(
        stuck, replace(stuck, student="s02", wrong=3), replace(FINE, student="s03", is_ended=True)
    )
    now = replace(now, troubles=("ida.jsonl: it is a link.",), others=2)
    told = news(before, now, with_names=True)
    assert told == [
        "ida.jsonl: it is a link.",
        "2 records are of another drill.",
        "Ida Example: 4 wrong tries at F_m of task 1, 6 min: sign of a moment.",
        "Odo Example: 3 wrong tries at F_m of task 1, 6 min: sign of a moment.",
        "Uma Example: handed in.",
        "sign of a moment: 2 students, at F_m of task 1 (2).",
    ]
    assert news(now, now, with_names=True) == []
    worse = replace(now, rows=(replace(now.rows[0], wrong=5), *now.rows[1:]))
    assert len(news(now, worse, with_names=True)) == 1
    anonymous = [*news(before, now, with_names=False), *troubles_told(now, with_names=False)]
    anonymous += [*slips_told(now), *lines_told(now), counts_told(now)]
    assert "Stuck: 2 students." in anonymous
    assert "1 file was changed, or could not be read." in anonymous
    assert anonymous.count("2 records are of another drill.") == 2
    assert not [
        one for one in anonymous for who in ("Ida", "ida", "Odo", "Uma", "s0") if who in one
    ]


def test_a_line_that_can_not_be_tried_again_is_news_once() -> None:
    before, now = seen(FINE), seen(replace(FINE, used_up=(LOAD,)))
    assert news(before, now, with_names=True) == ["Ida Example: no try left at W_l of task 2."]
    assert news(before, now, with_names=False) == ["No try left at a line: 1 student."]
    assert news(now, now, with_names=True) == []
    ended = seen(replace(FINE, used_up=(LOAD, FORCE), is_ended=True))
    assert news(now, ended, with_names=True) == ["Ida Example: handed in."]


# From the lines of a record


def state_after(drill: Drill, *lines: dict[str, object]) -> SittingState:
    """Return how a sitting stands after some lines of its record."""
    found = contents(record(drill, "s01", lines)).lines
    sitting = WatchedSitting(drill, CATALOGUE, "s01", found[0])
    for line in found[1:]:
        sitting.follow([line])
    sitting.follow([])
    return sitting.state


PLAIN = drill_with("attempts = 3")
RIGHT = {one.number: right_entries(one.question) for one in PLAIN.tasks("s01")}
FIRST, SECOND, THIRD, *_ = RIGHT[2]


def test_a_record_tells_where_its_student_is_and_what_was_tried_there() -> None:
    at_start = state_after(PLAIN)
    assert (at_start.at, at_start.done) == (LineAtHand(1, next(iter(RIGHT[1]))), 0)
    assert at_start.asked == sum(map(len, RIGHT.values()))
    lines = [
        entry(FIRST, RIGHT[2][FIRST], 2),
        entry(SECOND, "9.99 N", 2),
        entry(SECOND, "no idea", 2),
        hint(SECOND, 2),
    ]
    state = state_after(PLAIN, *lines)
    assert (state.at, state.done) == (LineAtHand(2, SECOND), 1)
    assert (state.wrong, state.unread, state.hints) == (1, 1, 1)
    assert (state.used, state.came, state.stepped) == (40.0, 10.0, 10.0)
    state = state_after(PLAIN, *lines, entry(SECOND, RIGHT[2][SECOND], 2))
    assert (state.at, state.wrong, state.stepped) == (LineAtHand(2, THIRD), 0, 50.0)
    state = state_after(PLAIN, *lines, {"kind": "away"})
    assert (state.is_away, state.is_ended) == (True, False)
    state = state_after(PLAIN, *lines, {"kind": "away"}, {"kind": "resumed"}, END, lines[1])
    assert (state.is_away, state.is_ended, state.wrong) == (False, True, 1)


def test_a_line_is_used_up_after_its_last_try_unless_it_is_right() -> None:
    wrong = [entry(FIRST, f"{n}.11 N", 2) for n in (701, 702, 703)]
    assert state_after(PLAIN, *wrong[:2]).used_up == ()
    assert state_after(PLAIN, *wrong[:2], entry(FIRST, RIGHT[2][FIRST], 2)).used_up == ()
    state = state_after(PLAIN, *wrong)
    assert (state.used_up, state.at) == ((LineAtHand(2, FIRST),), LineAtHand(2, SECOND))


TO_FIND = """
id = "levers"
title = "Levers"
minutes = 45

[[item]]
problem = "elbow-full-pail"
form = "find the slip"
"""


def test_of_a_slip_to_find_its_line_alone_is_asked_for(tmp_path: Path) -> None:
    drill = drill_of(TO_FIND, SHELF.problems, "levers.toml")
    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path)
    first, *lines = contents(sitting.place.read_bytes()).lines
    watched = WatchedSitting(drill, CATALOGUE, "s01", first)
    watched.follow(lines)
    assert watched.state.at == LineAtHand(1, SLIP_TO_FIND)
    assert (watched.state.done, watched.state.asked) == (0, 1)
    bench = sitting.benches[0]
    mending = bench.mending
    assert mending is not None
    while (question := mending.due(bench.answers)) is not None:
        bench.answer(question, min(question.right))
    (slip,) = mending.slips
    bench.enter(slip.step.key, mending.erroneous.right_line(slip.step).entry)
    watched.follow(contents(sitting.place.read_bytes()).lines[1 + len(lines) :])
    assert (watched.state.at, watched.state.done, watched.state.asked) == (None, 1, 1)


def test_a_slip_is_named_where_it_is_sure_as_long_as_its_line_is_at_hand() -> None:
    drill = drill_with()
    question = drill.tasks("s01")[1].question
    as_kilograms = entry(FIRST, f"{question.right[FIRST] / 9.81:.4g} N", 2)
    state = state_after(drill, as_kilograms)
    assert state.slip == "kilograms left as newtons"
    assert state.slips == (SlipMade(state.slip, LineAtHand(2, FIRST), 10.0),)
    state = state_after(drill, as_kilograms, entry(FIRST, RIGHT[2][FIRST], 2))
    assert (state.slip, len(state.slips)) == ("", 1)


def test_where_verdicts_wait_for_the_end_a_line_that_is_written_is_got_past() -> None:
    drill = drill_with('feedback = "at the end"')
    assert drill.feedback is Feedback.END
    state = state_after(drill, entry(FIRST, "9.99 N", 2))
    assert (state.at, state.wrong, state.stepped) == (LineAtHand(2, SECOND), 0, 10.0)
