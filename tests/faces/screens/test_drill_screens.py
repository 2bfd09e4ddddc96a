"""A drill on the full screen, driven by its keys."""

from __future__ import annotations

import threading

import pytest
from helpers.drill_screens import all_text, app_at, begin, drill_screen, sitting_of
from helpers.drills import SHELF, drill_file, let_pass, right_entry, wrong_entry
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.records import fields_in
from helpers.screens import paper, said, text_of, write_line
from leverstep.drill.drill_file import read_drill
from leverstep.drill.earlier import earlier, unfinished
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.asides import AwayScreen, ConfirmScreen, FolderScreen
from leverstep.faces.screens.door import DoorScreen
from leverstep.faces.screens.drills import DrillsScreen
from leverstep.faces.screens.entrances import Entrance
from leverstep.faces.screens.footer import FooterKey
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.help import HelpScreen, MissingScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.side_sheet import Diagram
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Static

END = 'feedback = "at the end"'
OUTCOMES = ("✓", "✗", "Right", "Not yet", "right now", "looks like")


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_a_whole_sitting_from_the_id_to_handing_in(tmp_path, size):
    """The id, the rules, every line of both tasks, and the verdicts once it is handed in."""
    path = drill_file(tmp_path, f"{END}\nminutes = 30")
    app = app_at(path, "")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        assert "You have 30 minutes" in text_of(app.screen, "#told")
        app.screen.query_one("#student", Input).value = "S01"
        await press(pilot, "enter")
        assert text_of(app.screen, "#whose").startswith("You are s01, Ida Example. Enter begins.")
        await press(pilot, "enter")
        screen = drill_screen(pilot)
        for bench in screen.sitting.benches:
            assert screen.bench is bench
            for step in bench.working.steps[:-2]:
                bench.enter(step.key, right_entry(bench, step))
            screen.paint()
            for step in bench.working.steps[-2:]:
                await enter_line(pilot, right_entry(bench, step))
                assert not any(word in all_text(pilot) for word in OUTCOMES)
            assert {margin for margin, _ in paper(pilot).values()} == {"• saved"}
            assert "lines are written" in text_of(screen, "#headline")
            await press(pilot, "f9")
        assert "all tasks done · 30 min left" in text_of(screen, "#progress")
        await press(pilot, "f10")
        assert isinstance(app.screen, ConfirmScreen)
        await press(pilot, "escape", "f10", "enter")
        assert isinstance(app.screen, HandedScreen)
        assert "Handed in: Levers, of s01, Ida Example" in text_of(app.screen, "#told")
        assert f"Its code is {screen.sitting.code}." in all_text(pilot)
        account = text_of(app.screen, "#lines")
        assert account.count("✓ ok") == sum(len(b.working.steps) for b in screen.sitting.benches)
        await press(pilot, "escape")
        assert isinstance(app.screen, HomeScreen)
    assert app.visit.farewell == ""
    assert not unfinished(earlier(read_drill(path, SHELF.problems), "s01").records)


async def enter_line(pilot: Pilot[int], text: str) -> None:
    await write_line(drill_screen(pilot), text)
    await settle(pilot)


@pytest.mark.parametrize("guidance", ["lines", "landmarks", "blank"])
async def test_outcomes_are_hidden_until_it_is_handed_in(tmp_path, guidance):
    """A right and a wrong line look the same wherever the student looks."""
    path = drill_file(tmp_path, f'{END}\nguidance = "{guidance}"')
    seen = []
    for entry_of in (right_entry, lambda _, step: wrong_entry(step)):
        app = app_at(path)
        async with app.run_test(size=(120, 36)) as pilot:
            screen = await begin(pilot)
            bench = screen.bench
            step = bench.working.step("d_s")
            text = entry_of(bench, step)
            screen.dialogue.chosen = "" if guidance != "lines" else "d_s"
            await enter_line(pilot, text if guidance == "lines" else f"d_s = {text}")
            looks = [said(pilot).replace(text, "…"), paper(pilot)["d_s"][0]]
            looks += [text_of(screen, "#progress"), str(screen.query_one(Diagram).content)]
            await press(pilot, "f2", "up", "down", "shift+tab", "tab", "f4")
            looks += [said(pilot), str(screen.step_at_hand), str(screen.bench.hints_given.count)]
            assert not any(word in all_text(pilot) for word in OUTCOMES)
            screen.sitting.hand_in()
            seen.append(looks)
    assert seen[0] == seen[1]
    assert seen[0][1] == "• saved"


async def test_there_are_no_hints_where_the_rules_have_none(tmp_path):
    """The key is not offered, and does nothing."""
    app = app_at(drill_file(tmp_path, 'hints = "none"'))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        assert "F2" not in said(pilot)
        await press(pilot, "f2")
        assert "Hint" not in said(pilot)
        assert screen.bench.hints_given.count == 0


async def test_a_line_whose_tries_are_used_gives_way_to_the_next(tmp_path):
    """It is told why, and can't be tried again."""
    app = app_at(drill_file(tmp_path, "attempts = 2"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        step = screen.step_at_hand
        await enter_line(pilot, wrong_entry(step))
        assert said(pilot).endswith("1 try is left.")
        await enter_line(pilot, wrong_entry(step))
        assert said(pilot) == "= That is the line already here."
        await enter_line(pilot, f"+{wrong_entry(step)}")
        assert said(pilot).startswith(f"✗ {step.key}: Not right")
        assert said(pilot).endswith("No tries are left for this line.")
        assert screen.step_at_hand is not step
        await press(pilot, "shift+tab", "f2")
        assert said(pilot) == f"No tries are left for {step.key}, so there is no hint."
        await enter_line(pilot, right_entry(screen.bench, step))
        assert said(pilot).startswith("? Not judged: all tries for this line are used up.")
        assert paper(pilot)[step.key][0] == "✗ not right"


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ('hints = "at a cost"', "Hint 1 of 4 for W_s, costs 25 % of this line's marks  Start from"),
        (
            'hints = "at a cost"\nguidance = "blank"',
            "Hint 1 of 4 for W_s, costs 25 % of the marks of F_h  Start from",
        ),
        ('hints = "free"', "Hint 1 of 4 for W_s  Start from"),
    ],
)
async def test_what_a_hint_costs_is_said_with_it(tmp_path, rules, told):
    app = app_at(drill_file(tmp_path, rules))
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "f2")
        assert said(pilot).startswith(told)


async def test_a_line_that_is_gone_back_to_tells_the_tries_left(tmp_path):
    """The line to be done says that it is the one."""
    app = app_at(drill_file(tmp_path, "attempts = 2"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        step = screen.step_at_hand
        await enter_line(pilot, right_entry(screen.bench, step))
        await press(pilot, "shift+tab")
        assert said(pilot) == "This line is right. 2 tries are left."
        await press(pilot, "enter")
        assert said(pilot).startswith(f"= {step.key}: That is the line already here.")
        assert screen.step_at_hand is not step
        await press(pilot, "f4")
        assert said(pilot) == "This is the line to be done."


async def test_the_tasks_are_gone_to_by_keys_and_keep_what_is_typed(tmp_path):
    """Also where both have a line of the same name."""
    app = app_at(drill_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        entry = screen.query_one("#entry", Input)
        entry.value = "41 kg *"
        await press(pilot, "f9")
        assert text_of(screen, "#heading") == "Task 2 of 2: A pail in the hand"
        assert entry.value == ""
        entry.value = "18 lb"
        await press(pilot, "f7")
        assert (text_of(screen, "#heading")[:11], entry.value) == ("Task 1 of 2", "41 kg *")
        await press(pilot, "f7")
        assert entry.value == "18 lb"


async def test_the_clock_is_seen_and_warns_without_disturbing(tmp_path):
    """The text in the field stays; the words go with the next line."""
    app = app_at(drill_file(tmp_path, "minutes = 30"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        assert text_of(screen, "#progress") == "line 1 of 15 · 2 tasks left · 30 min left"
        entry = screen.query_one("#entry", Input)
        entry.value = "half typed"
        screen.sitting.pause()  # so that only what is let pass does
        screen.sitting.stopwatch._used = 0.0
        for seconds, words in ((1500, "! 5 minutes are left."), (245, "! 55 seconds are left.")):
            let_pass(screen.sitting, seconds)
            screen.tick()
            await settle(pilot)
            assert said(pilot).startswith(words)
            assert entry.value == "half typed"
        assert "55 seconds left" in text_of(screen, "#progress")
        await enter_line(pilot, "0.01 N")
        assert "are left" not in said(pilot)


async def test_who_begins_with_little_time_is_warned_at_once(tmp_path):
    """It is so in a short drill, and where a sitting is gone on with."""
    app = app_at(drill_file(tmp_path, "minutes = 1"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        screen.tick()
        await settle(pilot)
        assert "left." in said(pilot)
        assert said(pilot).startswith(("! 1 minute is left.", "! 55 seconds are left."))


@pytest.mark.parametrize("by", ["clock", "enter"])
async def test_when_the_time_is_up_it_is_handed_in(tmp_path, by):
    """Nothing that comes too late is taken, and the screen says so."""
    app = app_at(drill_file(tmp_path, "minutes = 30"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        let_pass(screen.sitting, 1800)
        if by == "enter":
            await enter_line_late(pilot)
        screen.tick() if by == "clock" else None
        await settle(pilot)
        assert isinstance(app.screen, HandedScreen)
        assert text_of(app.screen, "#told").startswith("Time is up; what has been saved")
        kinds = [line["kind"] for line in fields_in(screen.sitting.place)]
        assert kinds == ["drill", "end"]


OVER_IT = {"f10": ConfirmScreen, "f1": HelpScreen, "f8": MissingScreen, "ctrl+o": FolderScreen}


@pytest.mark.parametrize("key", OVER_IT)
async def test_when_the_time_is_up_it_is_handed_in_once_whatever_lies_over_it(tmp_path, key):
    """The page at the end takes the place of all windows, and can be used."""
    app = app_at(drill_file(tmp_path, 'minutes = 30\nguidance = "landmarks"'))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await press(pilot, key)
        assert isinstance(app.screen, OVER_IT[key])
        let_pass(screen.sitting, 1800)
        for _ in range(3):
            screen.tick()
            await settle(pilot)
        assert [type(one) for one in app.screen_stack] == [HomeScreen, HandedScreen]
        names = {key.deed.name for key in app.screen.query(FooterKey)}
        assert names >= {"Home", "More", "Help"}
        assert [line["kind"] for line in fields_in(screen.sitting.place)] == ["drill", "end"]


async def test_the_clock_does_not_hand_in_again_while_the_screen_changes(tmp_path):
    app = app_at(drill_file(tmp_path, "minutes = 30"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        let_pass(screen.sitting, 1800)
        reply = screen.sitting_dialogue.hand_in()
        screen.tick()
        screen.take(reply)
        screen.tick()
        await settle(pilot)
        assert isinstance(app.screen, HandedScreen)
        assert [line["kind"] for line in fields_in(screen.sitting.place)] == ["drill", "end"]


async def enter_line_late(pilot: Pilot[int]) -> None:
    entry = drill_screen(pilot).query_one("#entry", Input)
    entry.value = "1.00 N"
    await entry.action_submit()
    await settle(pilot)


@pytest.mark.parametrize("way", ["escape", "ctrl+q"])
async def test_a_sitting_is_left_and_come_back_to(tmp_path, way):
    """The clock stands still, on the disk too, and the lines are there again."""
    path = drill_file(tmp_path, "minutes = 30")
    app = app_at(path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await enter_line(pilot, right_entry(screen.bench, screen.step_at_hand))
        let_pass(screen.sitting, 600)
        await press(pilot, way)
        if way == "escape":
            assert isinstance(app.screen, AwayScreen)
            assert "The clock is stopped (20 min left)" in text_of(app.screen, "#told")
            assert "barrow" not in all_text(pilot)
            await press(pilot, "enter")
            assert drill_screen(pilot) is screen
            assert paper(pilot)["W_s"][0] == "✓ ok"
            await press(pilot, "escape", "escape")
            assert isinstance(app.screen, HomeScreen)
    assert "The clock is stopped (20 min left)" in app.visit.farewell
    assert "leverstep drill sit" in app.visit.farewell
    again = app_at(path)
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        whose = text_of(again.screen, "#whose")
        assert (
            "It goes on from where you left it. So far: 1 entry, 20 min left. Enter goes on."
            in whose
        )
        await press(pilot, "enter")
        assert paper(pilot)["W_s"][0] == "✓ ok"
        assert 19 < drill_screen(pilot).sitting.left / 60 < 20.1


async def test_keys_are_answered_while_a_slow_disk_takes_the_clock(tmp_path, disk):
    """Going on after a break says what it waits for; what is typed meanwhile is there after it."""
    app = app_at(drill_file(tmp_path, "minutes = 30"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        text = right_entry(screen.bench, screen.step_at_hand)
        await press(pilot, "escape")
        assert isinstance(app.screen, AwayScreen)
        disk.free.clear()
        await pilot.press("enter")
        assert drill_screen(pilot) is screen
        assert text_of(screen, "#progress").startswith("One moment: the clock is being saved")
        await pilot.press("f1")
        assert isinstance(app.screen, HelpScreen)
        await pilot.press("f1", *"12", "enter")
        assert screen.query_one("#entry", Input).value == "12"
        disk.free.set()
        await settle(pilot)
        assert "30 min left" in text_of(screen, "#progress")
        assert screen.query_one("#entry", Input).value == "12"
        assert not screen.bench.working.lines
        await enter_line(pilot, text)
        assert paper(pilot)["W_s"][0] == "✓ ok"


async def test_a_path_is_typed_while_a_slow_disk_is_looked_through_for_drills(
    tmp_path, monkeypatch
):
    """What there is is listed when it is known, and the field keeps the focus."""
    found = threading.Event()

    def slowly(_):
        assert found.wait(20)
        yield "  levers   here", Entrance(drill_file(tmp_path))

    monkeypatch.setattr("leverstep.faces.screens.drills._drills_there_are", slowly)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("f2", *"other")
        assert text_of(app.screen, "#whose").startswith("Looking for drills in")
        found.set()
        await settle(pilot)
        assert text_of(app.screen, "#whose") == "Or one of these; Tab moves to them and back:"
        field = app.screen.query_one("#path", Input)
        assert (field.value, field.has_focus) == ("other", True)
        await press(pilot, "tab", "enter")
        assert isinstance(app.screen, DoorScreen)


async def test_what_is_not_on_the_disk_shows_no_verdict_and_stays_in_the_field(tmp_path, disk):
    """It is tried again by itself and by Enter, and is judged when it is on the disk."""
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        text = right_entry(screen.bench, screen.step_at_hand)
        disk.broken.append(tmp_path / "share")
        await enter_line(pilot, text)
        for _ in range(2):
            assert said(pilot).startswith("Not saved: ")
            assert "the disk is full" in said(pilot)
            assert screen.query_one("#entry", Input).value == text
            assert paper(pilot)["W_s"] == ("", "W_s = ······")
            assert not any(word in all_text(pilot) for word in OUTCOMES)
            screen.try_again()
            await settle(pilot)
        disk.broken.clear()
        screen.try_again()
        await settle(pilot)
        assert paper(pilot)["W_s"][0] == "✓ ok"
        assert "Not saved" not in said(pilot)
        assert screen.query_one("#entry", Input).value == ""
        disk.broken.append(tmp_path / "share")
        await press(pilot, "shift+tab")
        await enter_line(pilot, "1.23 N")
        assert "Until then W_s stays as it was." in said(pilot)
        assert paper(pilot)["W_s"][0] == "✓ ok"


async def test_what_was_changed_meanwhile_is_not_entered_by_itself(tmp_path, disk):
    """Only the disk is tried; Enter takes what stands in the field now."""
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        disk.broken.append(tmp_path / "share")
        await enter_line(pilot, "1.00 N")
        screen.query_one("#entry", Input).value = "2.00 N"
        disk.broken.clear()
        screen.try_again()
        await settle(pilot)
        assert "The record can be written again" in said(pilot)
        assert not screen.bench.working.lines
        await enter_line(pilot, "2.00 N")
        assert screen.bench.working.lines["W_s"].text == "2.00 N"


async def test_what_is_not_on_the_disk_goes_on_in_another_folder(tmp_path, disk):
    """Ctrl+O asks for it; one that fails too leaves all as it was."""
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        text = right_entry(screen.bench, screen.step_at_hand)
        disk.broken.append(tmp_path / "share")
        await enter_line(pilot, text)
        for folder in ("share/other", "stick"):
            (tmp_path / folder).mkdir(parents=True)
            await press(pilot, "ctrl+o")
            assert isinstance(app.screen, FolderScreen)
            app.screen.query_one("#path", Input).value = str(tmp_path / folder)
            await press(pilot, "enter")
            assert (paper(pilot)["W_s"][0] == "✓ ok") == (folder == "stick")
        assert screen.sitting.place.is_relative_to(tmp_path / "stick")
        assert f"The record is now at {screen.sitting.place}." in said(pilot)
        await press(pilot, "escape")
        assert f'--records "{tmp_path / "stick"}"' in text_of(app.screen, "#told")
    assert f'--records "{tmp_path / "stick"}"' in app.visit.farewell


async def test_handing_in_waits_for_the_disk_too(tmp_path, disk):
    """It is not said before it is so."""
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        disk.broken.append(tmp_path / "share")
        await press(pilot, "f10", "enter")
        assert "It is handed in as soon as it is" in said(pilot)
        disk.broken.clear()
        screen.try_again()
        await settle(pilot)
        assert isinstance(app.screen, HandedScreen)


async def test_who_leaves_is_told_where_the_record_is_gone_and_can_keep_the_lines(tmp_path):
    (tmp_path / "stick").mkdir()
    app = app_at(drill_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await enter_line(pilot, right_entry(screen.bench, screen.step_at_hand))
        screen.sitting.place.unlink()
        await press(pilot, "escape")
        told = text_of(app.screen, "#told")
        assert f"The record is no longer at {screen.sitting.place}: it was removed" in told
        assert "go on, and Ctrl+O keeps them in another folder" in told
        await press(pilot, "enter", "ctrl+o")
        app.screen.query_one("#path", Input).value = str(tmp_path / "stick")
        await press(pilot, "enter")
        assert screen.sitting.place.is_relative_to(tmp_path / "stick")
        await press(pilot, "escape")
        kept = f"Every line that you entered is saved at {screen.sitting.place}"
        assert kept in text_of(app.screen, "#told")
        assert len(fields_in(screen.sitting.place)) > 2


async def test_a_sitting_is_begun_in_another_folder_where_the_first_fails(tmp_path, disk):
    """The field for it comes when it is needed, and takes a folder that there is."""
    disk.broken.append(tmp_path / "share")
    (tmp_path / "stick").mkdir()
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        folder = app.screen.query_one("#folder", Input)
        assert folder.region.height == 0
        await press(pilot, "enter")
        assert text_of(app.screen, "#whose").startswith("The record can't be saved: ")
        assert "the disk is full" in text_of(app.screen, "#whose")
        assert folder.region.height == 1
        assert folder.has_focus
        folder.value = "F_m = 1743 N"
        await press(pilot, "enter")
        assert "can't be saved: there is no folder /" in text_of(app.screen, "#whose")
        assert not list(tmp_path.rglob("F_m*"))
        folder.value = str(tmp_path / "stick")
        await press(pilot, "enter")
        assert sitting_of(pilot).place.is_relative_to(tmp_path / "stick")


async def test_a_sitting_is_begun_where_it_was_to_be_once_that_can_be_written(tmp_path, disk):
    """Enter on the empty field tries the same folder again."""
    disk.broken.append(tmp_path / "share")
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "enter", "enter")
        assert "the disk is full" in text_of(app.screen, "#whose")
        disk.broken.clear()
        await press(pilot, "enter")
        assert sitting_of(pilot).place.is_relative_to(tmp_path / "share")


async def test_another_folder_for_the_record_is_one_that_there_is(tmp_path):
    """What is asked over the tasks is asked again, with what was typed."""
    app = app_at(drill_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "ctrl+o")
        app.screen.query_one("#path", Input).value = str(tmp_path / "none")
        await press(pilot, "enter")
        assert isinstance(app.screen, FolderScreen)
        assert text_of(app.screen, "#trouble") == f"There is no folder {tmp_path / 'none'}.\n"
        await press(pilot, "escape")
        drill_screen(pilot)


async def test_a_move_that_fails_leaves_the_record_where_it_is(tmp_path, disk):
    """It is no trouble of the record, and nothing waits."""
    app = app_at(drill_file(tmp_path))
    (tmp_path / "stick").mkdir()
    disk.broken.append(tmp_path / "stick")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await press(pilot, "ctrl+o")
        app.screen.query_one("#path", Input).value = str(tmp_path / "stick")
        await press(pilot, "enter")
        assert said(pilot).startswith("Kept in the old folder; the new one failed: ")
        assert screen.sitting.folder is None


async def test_who_has_begun_in_a_second_window_begins_no_second_sitting(tmp_path):
    """Both stood at the door: the second is told, and may go on."""
    path = drill_file(tmp_path)
    app = app_at(path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        first = Sitting.start(read_drill(path, SHELF.problems), CATALOGUE, "s01")
        await press(pilot, "enter")
        assert isinstance(app.screen, DoorScreen)
        assert "begun meanwhile, perhaps in a second window" in text_of(app.screen, "#whose")
        await press(pilot, "enter")
        assert sitting_of(pilot).place == first.place


async def test_what_went_on_in_a_second_window_is_told_with_what_to_do(tmp_path):
    """Nothing is tried again by itself, and no copy is made."""
    app = app_at(drill_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        Sitting.resume(screen.sitting.place, screen.sitting.drill, CATALOGUE)
        await enter_line(pilot, right_entry(screen.bench, screen.step_at_hand))
        assert said(pilot).startswith("Not taken: this sitting was continued outside this window")
        assert "Quit here with Ctrl+Q" in said(pilot)
        assert "Trying again" not in said(pilot)
        assert not screen.bench.working.lines
        await press(pilot, "ctrl+o")
        assert drill_screen(pilot) is screen
        await press(pilot, "escape", "escape", "f2", "enter", *"s01", "enter", "enter")
        await enter_line(pilot, right_entry(sitting_of(pilot).benches[0], screen.step_at_hand))
        assert paper(pilot)["W_s"][0] == "✓ ok"


async def test_who_types_another_id_is_no_longer_called_by_the_first(tmp_path):
    app = app_at(drill_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert text_of(app.screen, "#whose").startswith("You are s01")
        await press(pilot, "backspace")
        assert text_of(app.screen, "#whose") == ""
        await press(pilot, "2", "enter")
        assert text_of(app.screen, "#whose").startswith("You are s02, Odo Example.")


@pytest.mark.parametrize(
    ("rules", "student", "told"),
    [
        ("", "s09", "This id is not on the list for this drill."),
        ("opens = 2999-03-01T09:00:00Z", "s01", "This drill opens on "),
        ("closes = 2001-03-01T09:00:00Z", "s01", "This drill closed on "),
    ],
)
async def test_who_is_not_admitted_is_told_why(tmp_path, rules, student, told):
    """And stays at the door, where another id may be typed."""
    app = app_at(drill_file(tmp_path, rules), student)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "enter")
        assert isinstance(app.screen, DoorScreen)
        assert text_of(app.screen, "#whose").startswith(told)


@pytest.mark.parametrize("rules", ["", "sittings = 1", "closes = 2001-03-01T09:00:00Z"])
async def test_the_result_of_a_sitting_is_read_again_at_the_door(tmp_path, rules):
    """Nothing is begun by that, and it can be done where nothing may be begun any more."""
    sitting = Sitting.start(read_drill(drill_file(tmp_path), SHELF.problems), CATALOGUE, "s01")
    sitting.benches[0].enter("W_s", "1.00 N")
    sitting.hand_in()
    before = sitting.place.read_bytes()
    app = app_at(drill_file(tmp_path, rules), "s01")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        told = text_of(app.screen, "#whose")
        assert told.startswith("You are s01, Ida Example. You have handed in a sitting, on ")
        assert ("Enter begins." in told) is (not rules)
        await press(pilot, "f4")
        assert isinstance(app.screen, HandedScreen)
        assert "✗ not right" in text_of(app.screen, "#lines")
        assert "Not right, and no slip" in text_of(app.screen, "#lines")
        assert f"Its code is {sitting.code}." in text_of(app.screen, "#told")
    assert sitting.place.read_bytes() == before
    assert list(sitting.place.parent.glob("*.jsonl")) == [sitting.place]


async def test_a_drill_is_opened_from_home(tmp_path, home):
    """By its path, or from the list of the user's data folder."""
    (home / "drills").mkdir(parents=True)
    drill_file(home / "drills")
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "f2")
        assert isinstance(app.screen, DrillsScreen)
        assert "levers" in str(app.screen.query_one("#choices", OptionList).options[0].prompt)
        await press(pilot, "enter")
        assert isinstance(app.screen, DoorScreen)
        await press(pilot, "escape", "f2")
        app.screen.query_one("#path", Input).focus()
        app.screen.query_one("#path", Input).value = str(tmp_path / "none.toml")
        await press(pilot, "enter")
        assert isinstance(app.screen, DrillsScreen)
        assert text_of(app.screen, "#whose").startswith("This drill can't be opened:\nnone.toml: ")
        field = app.screen.query_one("#path", Input)
        assert (field.value, field.has_focus) == (str(tmp_path / "none.toml"), True)
        field.value = f'"{home / "drills" / "levers.toml"}"'
        await press(pilot, "enter")
        assert isinstance(app.screen, DoorScreen)


async def test_a_broken_drill_of_the_command_line_is_asked_for_again(tmp_path):
    """With its path in the field, and no more of its faults than a student can use."""
    path = tmp_path / "levers.toml"
    path.write_text("\n".join(f"unknown{number} = 1" for number in range(9)), encoding="utf-8")
    app = app_at(path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, DrillsScreen)
        assert app.screen.query_one("#path", Input).value == str(path)
        assert len(text_of(app.screen, "#whose").splitlines()) == 5
        await press(pilot, "escape")
        assert isinstance(app.screen, HomeScreen)


async def test_a_drill_that_is_not_handed_in_is_listed_until_it_is(tmp_path):
    """With the folder of its record, so that it goes on from there."""
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        place = (await begin(pilot)).sitting.place
        await press(pilot, "escape", "escape", "f2")
        listed = app.screen.query_one("#choices", OptionList)
        assert str(listed.options[0].prompt) == (
            f"  Levers, not handed in   records in {tmp_path / 'share'}"
        )
        await press(pilot, "enter", *"s01", "enter", "enter")
        assert sitting_of(pilot).place == place
        await press(pilot, "f10", "enter", "escape", "f2")
        assert not app.screen.query_one("#choices", OptionList).options


@pytest.mark.parametrize("guidance", ["lines", "blank"])
async def test_the_keys_of_a_drill_fit_the_least_width(tmp_path, guidance):
    app = app_at(drill_file(tmp_path, f'guidance = "{guidance}"'))
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        keys = app.screen.query("FooterKey")
        assert {key.deed.name for key in keys} >= {"Task", "Hand in", "Leave", "Help", "Hint"}
        assert all(key.virtual_region.right - 1 <= 80 for key in keys)


async def test_the_name_of_a_key_follows_what_is_shown(tmp_path):
    """F5 turns to the diagram, then to the statement."""
    app = app_at(drill_file(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for name in ("Diagram", "Statement", "Diagram"):
            names = {key.deed.ident: key.deed.name for key in app.screen.query(FooterKey)}
            assert names["work.turn"] == name
            await press(pilot, "f5")


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_a_long_title_is_cut_with_a_sign_and_a_gap(tmp_path, size):
    path = drill_file(tmp_path, "minutes = 45")
    path.write_text(path.read_text("utf-8").replace("elbow-full-pail", "shoulder-lantern-held-out"))
    app = app_at(path)
    async with app.run_test(size=size) as pilot:
        screen = await begin(pilot)
        await press(pilot, "f9")
        title = screen.bench.question.problem.title
        first = all_text(pilot).splitlines()[0]
        progress = text_of(screen, "#progress")
        assert f"  {progress}" in first
        assert first.startswith(" Task 2 of 2: ")
        assert title in first or "…" in first.removesuffix(progress)


async def test_the_page_at_the_end_tells_the_marks(tmp_path):
    """They are those that marking gives, for each task and in all."""
    app = app_at(drill_file(tmp_path, "[marking]\nwrong_try = 0.5"))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await enter_line(pilot, wrong_entry(screen.step_at_hand))
        for step in screen.bench.working.steps:
            screen.bench.enter(step.key, right_entry(screen.bench, step))
        await press(pilot, "f10", "enter")
        account = text_of(app.screen, "#lines")
        assert account.startswith("Under the rules of this drill: 5.8 of 10 marks.")
        assert "(5.8 of 6 marks)" in account  # half of one line of 15 is lost
        assert "(0 of 4 marks)" in account
        top = app.screen.query_one("#account").scroll_y
        await press(pilot, "pagedown")
        assert app.screen.query_one("#account").scroll_y > top


async def test_markup_in_a_name_or_a_path_is_shown_as_it_is(tmp_path):
    path = drill_file(tmp_path)
    (tmp_path / "roster.csv").write_text("id,name\n[b]x,[/red] Y\n", encoding="utf-8")
    async with app_at(path, "[b]x").run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert text_of(pilot.app.screen, "#whose").startswith("You are [b]x, [/red] Y.")
        assert isinstance(pilot.app.screen.query_one("#told"), Static)
