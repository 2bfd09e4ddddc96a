"""Pairs of problems alike in structure: which are, and what a drill says of its own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from leverstep.course.alike_problems import are_alike, have_same_lines, steps_beside
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.dialogue.preview import preview
from leverstep.drill.drill_file import drill_of
from leverstep.drill.problem_pairs import pairs_of, unlike_pairs
from leverstep.faces.commands.cli import main

TEXT = 'id = "later"\ntitle = "Later"\n[[item]]\nproblem = "plain-lamp-bracket"\npair = "{pair}"\n'
SEESAW = SHELF.problems["plain-seesaw"]
PAIL, BRACKET = SHELF.problems["elbow-pail-of-water"], SHELF.problems["plain-lamp-bracket"]


def test_problems_are_alike_by_their_lines() -> None:
    assert are_alike(PAIL, BRACKET)
    assert are_alike(BRACKET, PAIL)
    assert have_same_lines(PAIL, BRACKET)
    assert not are_alike(PAIL, SHELF.problems["elbow-tilted-forearm"])


def test_what_only_prepares_and_how_many_loads_there_are_make_no_difference() -> None:
    buckets = SHELF.problems["plain-plank-and-buckets"]
    for one, other in ((PAIL, SEESAW), (SEESAW, buckets)):
        assert are_alike(one, other)
        assert not have_same_lines(one, other)


def test_each_ordinary_form_comes_in_two_dresses() -> None:
    """One muscle and one load, slanting, two loads, along and across, centre of mass, supports."""
    offered = [SHELF.problems[card.id] for card in SHELF.offered]
    for name in (
        "ankle-calf-raise", "hip-one-leg-stance", "shoulder-arm-to-the-side", "elbow-pail-of-water",
        "elbow-pull-in-two-parts", "neck-bent-over-a-book", "shoulder-arm-held-out",
        "body-heavy-pack", "hip-lifted-leg", "body-plank-two-supports", "plain-balance-board",
        "ankle-standing-lean-moment", "plain-seesaw-where", "plain-lamp-two-cords",
    ):  # fmt: skip
        one = SHELF.problems[name]
        assert any(are_alike(one, other) for other in offered if other is not one), name


def test_problems_that_ask_for_other_things_are_told_apart_without_their_lines(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    other = next(card for card in SHELF.offered if card.asks != PAIL.asks)
    made: list[Problem] = []
    monkeypatch.setattr("leverstep.course.alike_problems._derivation", made.append)
    assert not are_alike(PAIL, SHELF.problems[other.id])
    assert made == []


def test_each_line_stands_beside_one_of_its_kind() -> None:
    beside = steps_beside(PAIL, BRACKET)
    assert [one.key for one, _ in beside] == [
        step.key for step in PAIL.question("1").derivation.asked
    ]
    assert all(one.kind is other.kind for one, other in beside)
    other_lines = {step.key for step, _ in steps_beside(PAIL, SEESAW)}
    assert {"M_sum", "F_m", "R_y"} <= other_lines
    assert "d_f" not in other_lines, "the seesaw has no fraction of a length"


def test_the_command_lists_all_that_are_alike_and_not_itself(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["problems", "--alike", "knee-kneecap"]) == 0
    none = "No other problem is worked as this one is. A drill may pair it with itself"
    assert none in capsys.readouterr().err
    assert main(["problems", "--alike", PAIL.id, "--json"]) == 0
    listed = {row["id"] for row in json.loads(capsys.readouterr().out)}
    offered = (SHELF.problems[card.id] for card in SHELF.offered)
    assert listed == {one.id for one in offered if are_alike(PAIL, one)} - {PAIL.id}
    assert BRACKET.id in listed
    assert main(["problems", "--alike", PAIL.id]) == 0
    told = capsys.readouterr().out.splitlines()
    same = [", the same lines)" in one for one in told]
    assert same == sorted(same, reverse=True), "the nearest come first"
    assert any(same)
    assert not all(same)


def test_a_drill_names_the_pair_of_an_item_and_its_preview_tells_it() -> None:
    drill = drill_of(TEXT.format(pair=PAIL.id), SHELF.problems, "later.toml")
    ((earlier, later, tasks),) = ((p.earlier, p.later, p.tasks) for p in pairs_of(drill))
    assert (earlier, later, tasks) == (PAIL, BRACKET, (1,))
    assert list(unlike_pairs(drill, "later.toml")) == []
    assert f"  Pair of: {PAIL.title} ({PAIL.id})" in list(preview(drill, CATALOGUE))


def test_a_pair_that_is_none_is_told_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(FileError, match=r'item\[1\].pair: found "plain-lamp"'):
        drill_of(TEXT.format(pair="plain-lamp"), SHELF.problems, "later.toml")
    file = tmp_path / "later.toml"
    file.write_text(TEXT.format(pair="elbow-tilted-forearm"), "utf-8")
    assert main(["vet", str(file)]) == 2
    told = capsys.readouterr().out
    assert "item[1].pair: 'elbow-tilted-forearm' is not worked as 'plain-lamp-bracket'" in told
