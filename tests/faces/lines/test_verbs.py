"""The table of words of the plain lines: each is bound, understood, and named in help."""

from __future__ import annotations

from collections import Counter

import pytest
from leverstep.faces.lines.board_line import BoardLines
from leverstep.faces.lines.drill_door import DoorLines
from leverstep.faces.lines.drill_line import DrillLines
from leverstep.faces.lines.end_lines import EndLines
from leverstep.faces.lines.explore_line import ExploreLines
from leverstep.faces.lines.home_line import HomeLines
from leverstep.faces.lines.picture_lines import PictureLines
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.lines.set_lines import SetPracticeLine
from leverstep.faces.lines.tour_line import TourLines
from leverstep.faces.lines.verbs import Listening, Place, help_of, understood, verbs_at
from leverstep.faces.lines.watch_line import WatchLines
from leverstep.faces.terminal import STOP

LISTENING: list[type[Listening]] = [
    HomeLines,
    PracticeLine,
    EndLines,
    DrillLines,
    DoorLines,
    BoardLines,
    ExploreLines,
    TourLines,
    PictureLines,
    SetPracticeLine,
    WatchLines,
]


def test_each_place_has_one_who_listens_there() -> None:
    assert [kind.place for kind in LISTENING] == [*Place]


@pytest.mark.parametrize("kind", LISTENING, ids=lambda kind: kind.__name__)
def test_every_word_is_bound_to_what_it_does_and_to_no_second_thing(kind: type[Listening]) -> None:
    verbs = verbs_at(kind.place)
    assert {verb.does for verb in verbs} == {
        name.removeprefix("do_") for name in dir(kind) if name.startswith("do_")
    }
    words = Counter(word for verb in verbs for word in verb.words)
    assert set(words.values()) == {1}
    assert set(STOP) < set(words)


@pytest.mark.parametrize("place", [one for one in Place if one is not Place.DOOR])
def test_help_names_every_word_but_those_that_ask_for_it(place: Place) -> None:
    told = " ".join(help_of(verbs_at(place)))
    unnamed = {"help", "?", "leave", "quit", "exit", ""}
    words = {word for verb in verbs_at(place) for word in verb.words} - unnamed
    assert len(words) >= 5
    assert not [word for word in words if word not in told]


@pytest.mark.parametrize(
    ("typed", "does", "rest"),
    [
        ("", "enter_alone", ""),
        ("Hint", "hint", ""),
        ("hint d_s", "hint", "d_s"),
        ("hints  d_s", "hints", "d_s"),
        ("skip", "skip", ""),
        ("leave", "stop", ""),
        ("Go  On", "skip", ""),
        ("go on then", "enter", "go on then"),
        ("HAND in", "hand_in", ""),
        ("hand", "enter", "hand"),
        ("task 2", "task", "2"),
        ("task two", "enter", "task two"),
        ("next", "next", ""),
        ("next one", "enter", "next one"),
        ("folder", "enter", "folder"),
        ("folder /a b/c  d", "folder", "/a b/c  d"),
        ("exit", "stop", ""),
        ("stop it", "enter", "stop it"),
        ("?", "help", ""),
        ("F_m = 12 N", "enter", "F_m = 12 N"),
        ("hinted", "enter", "hinted"),
    ],
)
def test_a_word_is_understood_with_what_follows_it(typed: str, does: str, rest: str) -> None:
    found = understood(typed, verbs_at(Place.TASKS))
    assert found is not None
    assert (found[0].does, found[1]) == (does, rest)


def test_what_is_no_word_at_the_door_is_not_understood() -> None:
    assert understood("what", verbs_at(Place.DOOR)) is None
