"""Pairs of problems alike in structure: which are, and what a drill says of its own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from leverstep.course.alike_problems import are_alike, steps_beside
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.dialogue.preview import preview
from leverstep.drill.drill_file import drill_of
from leverstep.drill.problem_pairs import pairs_of, unlike_pairs
from leverstep.faces.commands.cli import main

TEXT = 'id = "later"\ntitle = "Later"\n[[item]]\nproblem = "plain-lamp-bracket"\npair = "{pair}"\n'
PAIL, BRACKET = SHELF.problems["elbow-pail-of-water"], SHELF.problems["plain-lamp-bracket"]


def test_problems_are_alike_by_their_lines() -> None:
    assert are_alike(PAIL, BRACKET)
    assert are_alike(BRACKET, PAIL)
    assert not are_alike(PAIL, SHELF.problems["plain-seesaw"])


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


def test_the_command_lists_all_that_are_alike_and_not_itself(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["problems", "--alike", "knee-kneecap"]) == 0
    none = "No other problem is worked line by line as this one is. A drill may pair it with itself"
    assert none in capsys.readouterr().err
    assert main(["problems", "--alike", PAIL.id, "--json"]) == 0
    listed = {row["id"] for row in json.loads(capsys.readouterr().out)}
    offered = (SHELF.problems[card.id] for card in SHELF.offered)
    assert listed == {one.id for one in offered if are_alike(PAIL, one)} - {PAIL.id}
    assert BRACKET.id in listed


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
    file.write_text(TEXT.format(pair="plain-seesaw"), "utf-8")
    assert main(["vet", str(file)]) == 2
    told = capsys.readouterr().out
    assert "item[1].pair: 'plain-seesaw' is not worked line by line as 'plain-lamp-bracket'" in told
