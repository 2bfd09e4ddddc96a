"""Which drills are remembered as begun: a suggestion, never more."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.drills import drill_file, drill_with
from helpers.material import CATALOGUE
from leverstep.drill.begun import MOST, Begun, drills_begun, remember
from leverstep.drill.sitting import Sitting


@pytest.fixture(autouse=True)
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return where it is kept."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home" / "begun.json"


def test_a_sitting_is_remembered_until_it_is_handed_in(tmp_path: Path) -> None:
    """The latest first, each drill once in a folder, and only where its file is there."""
    path, gone = drill_file(tmp_path), tmp_path / "gone.toml"
    first, second = (Sitting.start(drill_with(), CATALOGUE, student) for student in ("s01", "s02"))
    other = Sitting.start(drill_with("", "other"), CATALOGUE, "s01", tmp_path / "share")
    for sitting, place in ((first, path), (other, path), (first, gone), (second, path)):
        remember(sitting, place)
    assert drills_begun() == (
        Begun("Levers", path, None),
        Begun("Levers", path, tmp_path / "share"),
    )
    for sitting in (first, second, other):
        sitting.hand_in()
    remember(second, path)
    assert drills_begun() == (Begun("Levers", path, tmp_path / "share"),)
    remember(other, path)
    assert drills_begun() == ()


def test_a_sitting_that_is_moved_is_remembered_where_it_lies(tmp_path: Path) -> None:
    path, sitting = drill_file(tmp_path), Sitting.start(drill_with(), CATALOGUE, "s01")
    remember(sitting, path)
    sitting.move(tmp_path / "stick")
    remember(sitting, path)
    assert drills_begun() == (Begun("Levers", path, tmp_path / "stick"),)


def test_no_more_are_remembered_than_can_be_looked_through(tmp_path: Path, kept: Path) -> None:
    sitting = Sitting.start(drill_with(), CATALOGUE, "s01")
    for number in range(MOST + 5):
        remember(sitting, tmp_path / f"{number}.toml")
    paths = [line["path"] for line in json.loads(kept.read_text("utf-8"))]
    assert (len(paths), paths[0]) == (MOST, str(tmp_path / f"{MOST + 4}.toml"))


@pytest.mark.parametrize(
    "written",
    [
        "",
        "{}",
        "[1, null, {}]",
        "[" * 5000,
        '[{"title": 1, "path": "/", "student": "", "records": ""}]',
        '[{"title": "x", "path": "\\u0000", "student": "", "records": ""}]',
        '[{"title": "x", "path": "", "student": ""}]',
        " " * 200_000,
    ],
)
def test_what_another_hand_wrote_is_no_trouble(written: str, tmp_path: Path, kept: Path) -> None:
    kept.parent.mkdir()
    kept.write_text(written, encoding="utf-8")
    assert drills_begun() == ()
    remember(Sitting.start(drill_with(), CATALOGUE, "s01"), drill_file(tmp_path))
    assert len(drills_begun()) == 1


def test_a_title_that_another_hand_wrote_is_plain_text(tmp_path: Path, kept: Path) -> None:
    line = {"title": "a\x1b[2Jb", "path": str(drill_file(tmp_path)), "student": "", "records": ""}
    kept.parent.mkdir()
    kept.write_text(json.dumps([line]), encoding="utf-8")
    assert [begun.title for begun in drills_begun()] == ["a?[2Jb"]


def test_nothing_is_remembered_where_nothing_can_be_written(tmp_path: Path, kept: Path) -> None:
    sitting, path = Sitting.start(drill_with(), CATALOGUE, "s01"), drill_file(tmp_path)
    kept.mkdir()
    remember(sitting, path)
    assert drills_begun() == ()
    assert [name.name for name in kept.parent.iterdir() if name.is_file()] == []
