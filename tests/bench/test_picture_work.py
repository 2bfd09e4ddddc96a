"""Free-body diagrams at a bench: kept before they are judged, taken again as they were, and old
records as before.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.kept_workings import unfinished
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices
from leverstep.bench.record_lines import (
    HintLine,
    LeaveLine,
    PictureAskedLine,
    PictureDoneLine,
    PlacedLine,
    TakenAwayLine,
    line_of,
)
from leverstep.free_body.body_picture import BodyPicture
from leverstep.free_body.placing import Placing
from leverstep.working.rules import Pictures

ASKED = PracticeChoices(pictures=Pictures.ASKED)


def begun(
    folder: Path, name: str = "elbow-full-pail", choices: PracticeChoices = ASKED
) -> Practice:
    return Practice.start(SHELF.problems[name], "7", CATALOGUE, folder, choices=choices)


def resumed(practice: Practice, choices: PracticeChoices = ASKED) -> Practice:
    assert practice.place is not None
    return Practice.resume(practice.place, SHELF, CATALOGUE, choices=choices)


def picture_of(practice: Practice, place: int = 0) -> BodyPicture:
    return practice.picture_work.pictures[place]


def drawn_right(practice: Practice, picture: BodyPicture) -> None:
    for item in picture.needed:
        practice.picture_work.place(picture, picture.right_placing(item))


def kinds(practice: Practice) -> list[Any]:
    assert practice.place is not None
    return [line["kind"] for line in fields_in(practice.place)]


def test_without_the_choice_nothing_is_asked_and_the_record_is_as_it_was(tmp_path: Path) -> None:
    practice = begun(tmp_path, choices=PracticeChoices())
    assert practice.picture_work.pictures == ()
    assert kinds(practice) == ["practice"]
    assert resumed(practice).picture_work.pictures == ()


def test_all_that_is_done_is_kept_and_taken_again(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    picture, work = picture_of(practice), practice.picture_work
    work.place(picture, Placing("W_l", "d_m", "up"))
    work.hint(picture)
    work.hint(picture)
    work.take_away(picture, "W_l")
    work.place(picture, Placing("W_l", "d_l", "down"))
    work.place(picture, Placing("decoy motion", "axis", "left"))
    assert not work.finish(picture)
    assert kinds(practice) == [
        "practice", "picture asked", "placed", "hint", "hint", "taken away", "placed", "placed",
        "picture done",
    ]  # fmt: skip
    again = picture_of(resumed(practice, PracticeChoices()))
    assert again.placed == picture.placed
    assert again.wrong == picture.wrong == {"W_l": 1, "decoy motion": 1}
    assert again.given == picture.given
    assert len(again.given) == 2
    assert not again.is_closed


def test_a_right_picture_is_closed_when_it_is_said_to_be_complete(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    picture = picture_of(practice)
    drawn_right(practice, picture)
    assert practice.picture_work.open_at("") is picture
    assert practice.picture_work.finish(picture)
    assert practice.picture_work.open_at("") is None
    again = picture_of(resumed(practice))
    assert (again.is_closed, again.is_done) == (True, True)


def test_a_skipped_picture_stays_skipped(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    practice.picture_work.skip(picture_of(practice))
    again = picture_of(resumed(practice))
    assert (again.is_closed, again.is_done) == (True, False)


def test_each_posture_has_its_picture(tmp_path: Path) -> None:
    practice = begun(tmp_path, "wrist-then-elbow")
    first, second = practice.picture_work.pictures
    practice.picture_work.place(second, Placing("W_f", "d_f", "down"))
    practice.picture_work.skip(first)
    once, twice = resumed(practice).picture_work.pictures
    assert (once.is_closed, twice.is_closed) == (True, False)
    assert set(twice.placed) == {"W_f"}


def test_pictures_are_asked_for_late_only_where_no_line_stands(tmp_path: Path) -> None:
    practice = begun(tmp_path, choices=PracticeChoices())
    assert practice.begin_pictures()
    assert not practice.begin_pictures()
    other = begun(tmp_path, choices=PracticeChoices())
    other.enter("W_f", "1.65*9.81 N")
    assert not other.begin_pictures()
    assert other.picture_work.pictures == ()
    centre = begun(tmp_path, "neck-magnifiers")
    assert kinds(centre) == ["practice"]


@pytest.mark.parametrize(
    "line",
    [
        PlacedLine(step="free body", item="W_x", point="d_l", direction="down"),
        PlacedLine(step="free body", item="W_l", point="d_l"),
        PlacedLine(step="free body"),
        PlacedLine(step="free body2", item="W_l", point="d_l", direction="down"),
        PlacedLine(item="W_l", point="d_l", direction="down"),
        TakenAwayLine(step="free body", item="W_f"),
        TakenAwayLine(step="free body"),
        PictureDoneLine(step="free body"),
        PictureDoneLine(),
        PictureAskedLine(),
    ],
)
def test_a_line_that_makes_no_sense_changes_nothing(tmp_path: Path, line: PlacedLine) -> None:
    practice = begun(tmp_path)
    picture = picture_of(practice)
    practice.picture_work.place(picture, Placing("W_l", "d_l", "down"))
    assert practice.replay(line) is None
    assert set(picture.placed) == {"W_l"}
    assert not picture.is_closed


@pytest.mark.parametrize("kind", ["placed", "taken away", "picture done", "hint", "leave"])
def test_whatever_stands_on_a_line_it_is_taken_or_passed_over(tmp_path: Path, kind: str) -> None:
    practice = begun(tmp_path)
    for value in (None, 5, [], {"a": 1}, "W_l", "", "\udcff", "x" * 10_000):
        for name in ("item", "point", "direction"):
            fields = {"kind": kind, "step": "free body", "item": "W_l", "point": "d_l"}
            assert practice.replay(line_of({**fields, "direction": "up", name: value})) is None


def test_nothing_changes_a_closed_picture(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    picture = picture_of(practice)
    practice.picture_work.skip(picture)
    for line in (
        PlacedLine(step="free body", item="W_l", point="d_l", direction="down"),
        HintLine(step="free body"),
        LeaveLine(step="free body"),
    ):
        practice.replay(line)
    assert (picture.placed, picture.given) == ({}, [])


def test_a_drill_takes_no_word_of_a_record_for_its_rule(tmp_path: Path) -> None:
    practice = begun(tmp_path, choices=PracticeChoices())
    practice.working.rules = replace(practice.working.rules, marked=True)
    practice.replay(PictureAskedLine())
    assert practice.picture_work.pictures == ()


def test_a_working_of_which_only_the_picture_is_begun_can_be_gone_on_with(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    assert unfinished(SHELF, tmp_path) == []
    practice.picture_work.place(picture_of(practice), Placing("W_l", "d_l", "down"))
    (one,) = unfinished(SHELF, tmp_path)
    assert (one.path, one.entries) == (practice.place, 1)
