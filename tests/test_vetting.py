"""Vetting: every fault that the numbers of a range bring out is told, and what ships has none."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tutor.cli import main
from tutor.course.places import shipped
from tutor.course.shelf import problem_files
from tutor.slips.catalogue import shipped_catalogue
from tutor.vetting.vet import Report, vet_file, vet_files

CATALOGUE = shipped_catalogue()

GOOD = """
id = "good"
title = "A bag on a stick"
joint = "plain"
difficulty = 1
statement = "A bag of {m_l} hangs {d_l} from the pivot; a hand pulls up {d_h} from it."

[segment]
name = "stick"
axis = "pivot"

[effort]
symbol = "F_h"
name = "hand"
at = { symbol = "d_h", from = 0.8, to = 1.0, step = 0.1, unit = "m" }
direction = "up"

[[load]]
symbol = "W_l"
name = "bag"
mass = { from = 5, to = 9, step = 1, unit = "kg" }
at = { symbol = "d_l", from = 40, to = 60, step = 1, unit = "cm" }
direction = "down"
"""
HELPER = """
[[load]]
symbol = "W_k"
name = "bucket"
mass = { from = 5, to = 9, step = 1, unit = "kg" }
at = { symbol = "d_k", from = 40, to = 60, step = 1, unit = "cm", beyond = true }
direction = "down"
"""


def vetted(tmp_path: Path, text: str) -> Report:
    path = tmp_path / "good.toml"
    path.write_text(text, encoding="utf-8")
    return vet_file(path, CATALOGUE)


@pytest.mark.parametrize(
    "path", list(problem_files([shipped("problems")])), ids=lambda path: path.stem
)
def test_what_ships_has_no_fault(path: Path) -> None:
    report = vet_file(path, CATALOGUE)
    assert report.faults == ()
    assert report.spans


def test_a_good_file_is_told_its_answers(tmp_path: Path) -> None:
    report = vetted(tmp_path, GOOD)
    assert report.faults == ()
    spans = {span.step.key: span.text for span in report.spans}
    # Weights of 5 to 9 kg at 40 to 60 cm against an arm of 0.8 to 1 m.
    assert spans["W_l"] == "49.1 to 88.3 N"
    assert spans["class"] == "second"
    assert spans["R_dir"] == "up"


@pytest.mark.parametrize(
    ("old", "new", "key", "found"),
    [
        ("{d_l}", "some way", "statement", "d_l is given but not stated"),
        ("stick", 7, "", ""),
        ('direction = "up"', 'direction = "down"', "effort.direction", "turns the same way"),
        ("to = 9", "to = 8.5", "load[1].mass.step", "found 1"),
        ('id = "good"', 'id = "bad"', "id", 'found "bad"'),
    ],
)
def test_what_reading_finds_is_told(
    tmp_path: Path, old: str, new: object, key: str, found: str
) -> None:
    text = GOOD.replace(old, str(new)) if isinstance(new, str) else GOOD.replace('"stick"', "7")
    report = vetted(tmp_path, text)
    assert report.faults
    assert any(f.key == (key or "segment.name") and found in f.found for f in report.faults)


def test_a_load_that_may_win_against_the_other_is_a_fault(tmp_path: Path) -> None:
    """With some numbers the hand would have to push down."""
    text = GOOD.replace("stick", "stick").replace("{d_h} from it.", "{d_h} from it; {m_k}, {d_k}.")
    report = vetted(tmp_path, text + HELPER)
    (fault,) = report.faults
    assert "F_h would have to turn the other way" in fault.found
    assert "m_l " in fault.key


def test_a_reaction_that_may_vanish_is_a_fault(tmp_path: Path) -> None:
    """Where hand and bag may share a point, nothing is left for the pivot."""
    text = GOOD.replace("from = 0.8, to = 1.0, step = 0.1", "from = 0.4, to = 0.8, step = 0.1")
    report = vetted(tmp_path, text)
    assert {fault.key for fault in report.faults} == {"the line R_y"}


def test_angles_that_change_a_sign_are_a_fault(tmp_path: Path) -> None:
    """An effort that may pass the axis on its other side has no working for some numbers."""
    text = GOOD.replace(
        'direction = "up"',
        'direction = { line = "horizontal", toward = "right", side = "above", '
        'angle = { symbol = "alpha", from = 20, to = 60, step = 5, unit = "deg" } }',
    ).replace("pulls up", "pulls at {alpha}, the stick at {theta}")
    text = text.replace(
        'axis = "pivot"',
        'axis = "pivot"\ninclination = { symbol = "theta", from = 30, to = 50, step = 5, '
        'unit = "deg" }',
    )
    report = vetted(tmp_path, text)
    assert report.faults


def test_a_slip_that_passes_for_right_is_a_remark(tmp_path: Path) -> None:
    """At an arm of one metre, leaving the arm out changes nothing."""
    report = vetted(tmp_path, GOOD)
    assert any('"the arm left out" gives a right value' in r.found for r in report.remarks)
    none = vetted(tmp_path, GOOD.replace("from = 0.8, to = 1.0", "from = 0.7, to = 0.9"))
    assert not any("the arm left out" in remark.found for remark in none.remarks)


def test_two_files_of_one_id_are_a_fault(tmp_path: Path) -> None:
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "good.toml").write_text(GOOD, encoding="utf-8")
    first, second = vet_files(problem_files([tmp_path]), CATALOGUE)
    assert first.faults == ()
    assert '"good" is taken by' in second.faults[0].found


def test_the_command_tells_faults_and_exits_with_two(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(GOOD, encoding="utf-8")
    bad.write_text("id = 3", encoding="utf-8")
    assert main(["vet", str(good)]) == 0
    assert "good.toml: no fault" in capsys.readouterr().out
    assert main(["vet", "--json", str(tmp_path)]) == 2
    told = {Path(one["file"]).name: one for one in json.loads(capsys.readouterr().out)}
    assert told["good.toml"]["faults"] == []
    weight = told["good.toml"]["answers"][0]
    assert (weight["line"], weight["unit"]) == ("W_l", "N")
    assert (weight["low"], weight["high"]) == pytest.approx((49.05, 88.29))
    assert len(told["bad.toml"]["faults"]) > 3
