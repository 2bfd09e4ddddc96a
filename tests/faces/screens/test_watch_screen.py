"""A class at work on the full screen: who is next, the slips, and nobody's name on a projector."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from helpers.drill_screens import all_text
from helpers.drills import SHELF, drill_file, right_entry, wrong_entry
from helpers.material import CATALOGUE
from helpers.pilots import press, settle
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.basis import OneScreenApp
from leverstep.faces.screens.keys import deeds
from leverstep.faces.screens.watch_screen import WatchScreen
from leverstep.watching.class_at_work import SlipRow
from leverstep.watching.class_watch import NOT_READ, ClassWatch
from leverstep.watching.watched_folder import WatchedFolder


def flat(text: str) -> str:
    return " ".join(text.split())


async def test_who_is_next_stands_on_top_and_what_is_new_is_painted(tmp_path: Path) -> None:
    drill = read_drill(drill_file(tmp_path), SHELF.problems)
    records = tmp_path / "records"
    sittings = {who: Sitting.start(drill, CATALOGUE, who, records) for who in ("s01", "s02")}
    before = {path: path.read_bytes() for path in records.rglob("*.jsonl")}
    app = OneScreenApp(WatchScreen(ClassWatch(drill, CATALOGUE, records), with_names=True))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, WatchScreen)
        assert "Getting on: 2" in all_text(pilot)
        assert {path: path.read_bytes() for path in records.rglob("*.jsonl")} == before
        bench = sittings["s02"].benches[0]
        first, second, *_ = bench.working.steps
        bench.enter(first.key, right_entry(bench, first))
        for _ in range(3):
            bench.enter(second.key, wrong_entry(second))
            bench.hint(second.key)
        sittings["s01"].hand_in()
        screen.look_again()
        await settle(pilot)
        shown = flat(all_text(pilot))
        told = f"1 wrong try and 3 hints at {second.key} of task 1, less than a minute"
        places = [shown.find(one) for one in ("Stuck: 1", "Odo Example", told, "Handed in: 1")]
        assert min(places) >= 0
        assert places == sorted(places)
        assert "1 at work, 1 handed in" in shown
        await press(pilot, "f5")
        shown = all_text(pilot)
        assert f"{second.key} of task 1: 1 student, 1 stuck" in flat(shown)
        assert "Odo" not in shown
        await pilot.resize_terminal(120, 36)
        await settle(pilot)
        shown = all_text(pilot)
        assert "Odo Example" in shown
        assert "Where students are" in shown
        assert "watch.turn" not in [deed.ident for deed in deeds(screen)]


async def test_without_names_nobody_is_named_at_any_size(tmp_path: Path) -> None:
    drill = read_drill(drill_file(tmp_path), SHELF.problems)
    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "records")
    sitting.place.with_name("ida-example.jsonl").write_bytes(b"junk\n")
    app = OneScreenApp(
        WatchScreen(ClassWatch(drill, CATALOGUE, tmp_path / "records"), with_names=False)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        for size in ((80, 24), (120, 36)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            shown = all_text(pilot)
            assert "1 student, the longest for less than a minute" in flat(shown)
            assert "1 at work, 1 not begun" in shown
            assert "1 file was changed, or could not be read." in flat(shown)
            assert not [one for one in ("Ida", "ida", "Odo", "s01", "s02") if one in shown]
            await press(pilot, "f5")
            assert all_text(pilot) == shown
        await pilot.resize_terminal(80, 24)
        screen = app.screen
        assert isinstance(screen, WatchScreen)
        assert screen.now is not None
        slips = tuple(SlipRow(f"the slip with number {n}", 2, ()) for n in range(1, 5))
        screen.now = replace(screen.now, slips=slips)
        screen.paint()
        await settle(pilot)
        assert ", ".join(f"{slip.name} (2)" for slip in slips) in flat(all_text(pilot))


async def test_a_fault_in_one_look_is_told_and_the_next_look_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: WatchedFolder) -> None:
        raise RuntimeError

    drill = read_drill(drill_file(tmp_path), SHELF.problems)
    Sitting.start(drill, CATALOGUE, "s01", tmp_path / "records")
    app = OneScreenApp(
        WatchScreen(ClassWatch(drill, CATALOGUE, tmp_path / "records"), with_names=True)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, WatchScreen)
        with monkeypatch.context() as patch:
            patch.setattr(WatchedFolder, "look", fails)
            screen.look_again()
            await settle(pilot)
        shown = flat(all_text(pilot))
        assert NOT_READ in shown
        assert "Getting on: 1" in shown
        screen.look_again()
        await settle(pilot)
        assert NOT_READ not in flat(all_text(pilot))
