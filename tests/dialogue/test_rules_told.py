"""Every rule of a drill is told to students before they begin, or there is a reason why not."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, datetime
from fractions import Fraction

import pytest
from helpers.drills import drill_with
from leverstep.dialogue.notice import rules_in_words
from leverstep.drill.allowance import Late
from leverstep.drill.drill import Counts, Drill, DrillClock, Feedback, Hints, Scheme
from leverstep.drill.pins import Pins
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Conversions, Pictures, Reasons, Units

DRILL = drill_with()
OTHER = {
    "items": DRILL.items[:1],
    "feedback": Feedback.END,
    "hints": Hints.COST,
    "reasons": Reasons.AT_ONCE,
    "calculator": False,
    "predict": True,
    "sense": True,
    "sure": True,
    "conversions": Conversions.GIVEN,
    "units": Units.NAMED,
    "picture": Pictures.ASKED,
    "attempts": 3,
    "sittings": 2,
    "minutes": 45,
    "closes": datetime(2027, 3, 1, 11, tzinfo=UTC),
    "start_word": "locked",
    "own_numbers": "c" * 32,
    "pins": Pins(),
    "seal": "c" * 512,
    "late": Late(datetime(2027, 3, 1, 10, tzinfo=UTC)),
}
"""Another value of each rule that is told."""
OTHER_MARKING = {
    "wrong_try": Fraction(1, 2),
    "hint": (Fraction(1, 10), Fraction(1, 4), Fraction(1, 2), Fraction(1)),
    "follow_through": Fraction(1, 2),
    "counts": Counts.LAST,
}
"""Another value of each part of the marking."""
UNTOLD = {
    "title": "it heads the rules",
    "id": "it names the folder of the records alone",
    "text": "it is the file itself",
    "guidance": "the working shows how far the student is led",
    "tolerance": "it is known to nobody who types what the lines come to",
    "accepted": "the statement names the constants",
    "opens": "before that nothing is begun",
    "scheme": "it is told by its parts",
    "clock": "it is told with the minutes",
    "students": "who is not on the roster is told at the door",
    "start_key": "it is what the start word comes to",
    "number_secret": "it is known to who marks alone",
    "sat_with": "it is known to who marks alone",
    "seal_keys": "they are known to who marks alone",
    "roster_columns": "it is about tables of marks",
    "details": "it is about tables of marks",
    "elsewhere": "it is known to who marks alone",
    "allowances": "what is otherwise for a student is told at the door, to that student",
}
"""Why a rule is not among those told."""


def told(drill: Drill) -> str:
    return " ".join(rules_in_words(drill, None, "press F10", "press Esc"))


def test_every_rule_is_told_or_there_is_a_reason() -> None:
    assert {field.name for field in fields(Drill)} == OTHER.keys() | UNTOLD.keys()
    assert {field.name for field in fields(Scheme)} == OTHER_MARKING.keys()


@pytest.mark.parametrize("name", OTHER)
def test_another_rule_is_told_otherwise(name: str) -> None:
    assert told(replace(DRILL, **{name: OTHER[name]})) != told(DRILL)


def test_how_the_minutes_go_on_is_told_with_them() -> None:
    timed = replace(DRILL, minutes=45)
    assert "the clock stops while you are away" in told(timed)
    assert "the clock runs on while you are away" in told(replace(timed, clock=DrillClock.WALL))


def test_which_line_bears_a_hint_is_told_where_not_all_are_asked_for() -> None:
    costly, bears = replace(DRILL, hints=Hints.COST), "of the first line asked for that still needs"
    assert bears in told(replace(costly, guidance=Guidance.LANDMARKS))
    assert bears not in told(costly)


@pytest.mark.parametrize("name", OTHER_MARKING)
def test_other_marking_is_told_otherwise(name: str) -> None:
    drill = replace(DRILL, hints=Hints.COST)
    scheme = replace(DRILL.scheme, **{name: OTHER_MARKING[name]})
    assert told(replace(drill, scheme=scheme)) != told(drill)
