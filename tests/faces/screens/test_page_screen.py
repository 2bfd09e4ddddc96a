"""The page of a blank sheet on the full screen, worked in as a student does."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drill_screens import all_text, app_at, begin
from helpers.drills import SHELF, Disk, drill_file, let_pass
from helpers.material import material
from helpers.pilots import press, settle
from helpers.records import fields_in, texts_in
from helpers.screens import PAIL, enter, page_lines, right_entry, said, text_of, work_screen
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.closing import Closing
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.page_editor import PageEditor
from leverstep.faces.screens.page_screen import PageScreen
from leverstep.working.guidance import Guidance
from textual import events
from textual.containers import VerticalScroll
from textual.pilot import Pilot

RIGHT = {"W_f": "W_f = 13.73 N", "W_l": "W_l = 80.08 N", "M_sum": "M_sum = -32.91 N·m"}


def blank_app(name: str = PAIL) -> LeverstepApp:
    return LeverstepApp(
        material(SHELF), Opening(SHELF.problems[name], "a1", guidance=Guidance.BLANK)
    )


def blank_drill(folder: Path, rules: str = "", records: Path | None = None) -> LeverstepApp:
    """Return the program at the door of a drill on blank sheets."""
    return app_at(drill_file(folder, f'guidance = "blank"\n{rules}'), folder=records)


def page_screen(pilot: Pilot[int]) -> PageScreen:
    screen = pilot.app.screen
    assert isinstance(screen, PageScreen)
    return screen


def editor(pilot: Pilot[int]) -> PageEditor:
    return page_screen(pilot).editor


def rows_of(pilot: Pilot[int]) -> list[str]:
    """Return the rows of the page as they are painted, margin and all."""
    there = editor(pilot).region
    strips = pilot.app.screen._compositor.render_strips()[there.y : there.bottom]
    rows = [strip.text[there.x : there.right].rstrip() for strip in strips]
    return [row.strip("│") for row in rows if row.strip("│ ▸")]


def entered(home: Path, kind: str = "practice") -> list[object]:
    """Return the lines of the one record there is, in their order."""
    (record,) = (home / kind).rglob("*.jsonl")
    return texts_in(record)


async def type_keys(pilot: Pilot[int], text: str) -> None:
    """Type a text key by key, and all keys at once, as over a slow line; > is Enter."""
    for key in text:
        name, letter = ("enter", "\r") if key == ">" else (key, key)
        pilot.app.post_message(events.Key(name, letter))
    await settle(pilot)


async def paste(pilot: Pilot[int], text: str) -> None:
    pilot.app.post_message(events.Paste(text))
    await settle(pilot)


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_a_page_is_worked_from_first_to_last_line(size, home):
    """Every line in its order, each marked as it is left; the record has them line by line."""
    async with blank_app("elbow-both-attachments").run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        written = []
        for step in screen.practice.working.steps:
            entry = right_entry(screen, step)
            line = entry if not step.kind.is_number else f"{step.key} = {entry}"
            written.append(line)
            await enter(pilot, line)
        assert editor(pilot).lines == [*written, ""]
        assert {mark for mark, _ in page_lines(screen.page).values()} == {"✓ ok"}
        assert screen.query_one(Closing).display
        assert text_of(screen, "#headline").endswith("lines asked for are right. Well done.")
        assert editor(pilot).has_focus
    assert entered(home) == written


async def test_what_is_typed_is_checked_when_the_line_is_left(home):
    """Enter leaves it and goes on; the margin has a sign, and the words stand below."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.40 N")
        assert rows_of(pilot) == [" ▸ W_f = 1.40 N"]
        assert not work_screen(pilot).practice.working.lines
        await type_keys(pilot, ">W_l = 80")
        assert rows_of(pilot) == ["✗  W_f = 1.40 N", " ▸ W_l = 80"]
        assert said(pilot) == "✗ W_f: Not yet. The slip is in this line. A hint tells more."
        await type_keys(pilot, ".08 N>")
        assert rows_of(pilot) == ["✗  W_f = 1.40 N", "✓  W_l = 80.08 N"]
        assert said(pilot) == "✓ W_l: Right."
    assert entered(home) == ["W_f = 1.40 N", "W_l = 80.08 N"]


async def test_an_earlier_line_is_changed_and_checked_anew(home):
    """Enter does not cut a line in two; the arrows leave it too, and tell of where they lead."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.40 N>W_l = 80.08 N>")
        await press(pilot, "up", "up")
        assert said(pilot).startswith("✗ W_f: Not yet.")
        await press(pilot, *["right"] * 6, *["delete"] * 4, *"13.7")
        assert rows_of(pilot)[0] == " ▸ W_f = 13.7 N"
        assert entered(home) == ["W_f = 1.40 N", "W_l = 80.08 N"]
        await press(pilot, "enter")
        assert rows_of(pilot) == ["✓  W_f = 13.7 N", "✓  W_l = 80.08 N"]
        assert editor(pilot).lines == ["W_f = 13.7 N", "", "W_l = 80.08 N", ""]
        await press(pilot, "up", "end", "left", "left", "3", "down")
        assert editor(pilot).lines[0] == "W_f = 13.73 N"
        assert said(pilot) == "✓ W_f: Right."
        await press(pilot, "down")
        assert said(pilot) == "✓ W_l: Right."
    assert entered(home)[2:] == ["W_f = 13.7 N", "W_f = 13.73 N"]


async def test_before_its_first_letter_enter_makes_room_above_a_line():
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_l = 80.08 N>")
        await press(pilot, "up", "home", "enter", "up", *"third", "enter")
        assert editor(pilot).lines == ["third", "", "W_l = 80.08 N", ""]
        assert set(page_lines(page_screen(pilot).page)) == {"class", "W_l"}


async def test_of_three_lines_pasted_each_is_left_but_the_last(home):
    """The last one has the cursor; signs that would command a terminal are seen as ?."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await paste(pilot, "W_f = 1.40 N\r\nW_l\t= 80.08 N\r\nM_sum = \x1b[2J-32.91 N·m")
        assert editor(pilot).lines == ["W_f = 1.40 N", "W_l = 80.08 N", "M_sum = ?[2J-32.91 N·m"]
        assert entered(home) == ["W_f = 1.40 N", "W_l = 80.08 N"]
        assert [row[0] for row in rows_of(pilot)] == ["✗", "✓", " "]
        await press(pilot, "enter")
        assert rows_of(pilot)[2][0] == "?"
        await paste(pilot, "third\ndown\n")
        assert editor(pilot).lines[3:] == ["third", "down", ""]
        assert entered(home)[3:] == ["third", "down"]


async def test_what_is_too_much_is_refused_in_a_sentence_and_the_page_stays(home):
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 13.73 N>")
        await paste(pilot, "x = 1 N\n" * 10_000)
        assert said(pilot) == "Nothing is taken: a page may have at most 200 lines."
        await paste(pilot, "1 + " * 40)
        assert said(pilot) == "Nothing is taken: a line may have at most 120 characters."
        assert editor(pilot).lines == ["W_f = 13.73 N", ""]
        await type_keys(pilot, "third>")
        assert entered(home) == ["W_f = 13.73 N", "third"]


async def test_undo_brings_a_line_back_as_it_was():
    """One that was taken away is marked as before, and not entered again."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.40 N>W_l = 80.08 N>")
        await press(pilot, "up", "up", "ctrl+shift+k")
        assert rows_of(pilot) == ["✓▸ W_l = 80.08 N"]
        assert "No longer on the page, but still kept: W_f." in said(pilot)
        attempts = dict(work_screen(pilot).practice.working.attempts)
        await press(pilot, "ctrl+z")
        assert rows_of(pilot)[0].endswith("W_f = 1.40 N")
        await press(pilot, "ctrl+end")
        assert rows_of(pilot) == ["✗  W_f = 1.40 N", "✓  W_l = 80.08 N"]
        assert "No longer" not in said(pilot)
        assert work_screen(pilot).practice.working.attempts == attempts


async def test_a_remark_has_no_sign():
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "we look at the moments first>F_m = blue>")
        assert rows_of(pilot) == ["   we look at the moments first", "?  F_m = blue"]


async def test_markup_and_long_lines_are_shown_as_they_are():
    """A long line goes on below, its sign at its beginning alone."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await paste(pilot, "[red]x[/]\nthe moment of the pail about the elbow is 30.43 N·m\n")
        rows = rows_of(pilot)
        assert rows[0] == "?  [red]x[/]"
        assert len(rows) == 3
        assert rows[1][0] == "✓"
        assert rows[2].startswith("   ")


async def test_hints_are_for_the_line_at_the_cursor_while_it_is_not_right():
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.40 N>W_l = 8 N>")
        await press(pilot, "f2")
        assert "Hint 1 of 4 for W_l" in said(pilot)
        await press(pilot, "up", "up", "f2")
        assert "✗ W_f: Not yet." in said(pilot)
        assert "Hint 1 of 4 for W_f" in said(pilot)
        await press(pilot, "down")
        assert "Hint 1 of 4 for W_l" in said(pilot)
        assert "W_f" not in said(pilot)


async def test_lines_are_told_as_the_student_chose_meanwhile():
    """F9 has likely slips named at once, on lines that were left before too."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.40 N>")
        await press(pilot, "f9")
        assert said(pilot).startswith("From now on, the likely slip behind a wrong line is named")
        await press(pilot, "up")
        assert said(pilot).startswith("✗ W_f: Not yet. It looks like this slip: kilograms")


async def test_tab_leaves_the_page_for_what_is_said_and_comes_back():
    """The line is left by that; the terminal's cursor goes along. So do Shift+Tab and ↑."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.40 N")
        await press(pilot, "tab")
        assert pilot.app.screen.focused is pilot.app.screen.query_one("#answer", VerticalScroll)
        assert said(pilot).startswith("✗ W_f: Not yet.")
        x, y = pilot.app.cursor_position
        assert pilot.app.screen._compositor.render_strips()[y].text[x:].startswith("✗ W_f: Not")
        await press(pilot, "shift+tab", *"!")
        assert editor(pilot).lines == ["W_f = 1.40 N!"]
        x, y = pilot.app.cursor_position
        assert pilot.app.screen._compositor.render_strips()[y].text[:x].endswith("1.40 N!")
        for there, back in (("tab", "tab"), ("shift+tab", "tab"), ("tab", "up")):
            await press(pilot, there)
            assert not editor(pilot).has_focus
            await press(pilot, back)
            assert editor(pilot).has_focus


async def test_another_window_in_front_leaves_no_line(home):
    """As a calculator: the line is only half typed."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 1.4")
        pilot.app.post_message(events.AppBlur())
        await settle(pilot)
        assert not editor(pilot).has_focus
        pilot.app.post_message(events.AppFocus())
        await settle(pilot)
        assert editor(pilot).has_focus
        await type_keys(pilot, "0 N>")
    assert entered(home) == ["W_f = 1.40 N"]


async def test_a_click_on_another_line_leaves_the_one_that_was_changed():
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 13.73 N>W_l = 8 N")
        await pilot.click(PageEditor, offset=(9, 0))
        await settle(pilot)
        assert rows_of(pilot) == ["✓▸ W_f = 13.73 N", "✗  W_l = 8 N"]
        assert said(pilot).startswith("✗ W_l: Not yet")
        assert editor(pilot).cursor_location == (0, 5)


async def test_keys_of_the_screen_work_on_the_page():
    """F7, F6 and the page keys are not the editor's; what is missing is told over it."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 13.73 N>third>")
        await press(pilot, "f7", "pageup", "pagedown")
        assert editor(pilot).selected_text == ""
        assert editor(pilot).row == 2
        await press(pilot, "f3")
        assert said(pilot) == "F_m is skipped for now. Write it whenever you like."
        for _ in range(4):
            await press(pilot, "f3")
        assert pilot.app.screen.query_one(Closing).display
        await press(pilot, "up", "f4")
        assert said(pilot) == "Still open: F_m, MA, AR, R_y, direction."
        assert editor(pilot).row == 2


async def test_who_comes_back_finds_the_page_as_it_stands(home):
    """What was typed while it was being opened goes on at its end."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "third>W_f = 1.40 N>F_m = blue>W_l = 80.08 N>")
        await press(pilot, "up", "up", "up", "end", *["backspace"] * 12, *"W_f = 13.73 N")
        await press(pilot, "escape")
        assert entered(home)[-1] == "W_f = 13.73 N"
    (record,) = (home / "practice").glob("*.jsonl")
    app = LeverstepApp(material(SHELF), Opening(SHELF.problems[PAIL], path=record))
    async with app.run_test(size=(80, 24)) as pilot:
        while not (isinstance(app.screen, PageScreen) and app.screen.focused):
            await pilot.pause(0.01)  # the first screen lies below it
        await type_keys(pilot, "do")
        assert [row[0] for row in rows_of(pilot)][:3] == ["✓"] * 3
        await type_keys(pilot, "wn>")
        assert editor(pilot).lines[-2:] == ["down", ""]


async def test_the_end_keeps_the_page_open_for_changes():
    """What is told of a line stands there too."""
    async with blank_app("plain-crowbar").run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        for step in screen.practice.working.asked:
            entry = right_entry(screen, step)
            await enter(pilot, entry if not step.kind.is_number else f"{step.key} = {entry}")
        assert screen.has_class("-ended")
        again = [*["up"] * 20, "end", "ctrl+u"]
        await press(pilot, *again, *"F_h = blue", "down")
        assert "? Not judged" in text_of(screen, "#account")
        assert "still kept: F_h." in text_of(screen, "#account")
        assert screen.has_class("-ended")
        await press(pilot, *again, *"F_h = 1.23 N", "down")
        assert said(pilot).startswith("✗ F_h: Not yet")
        assert not screen.has_class("-ended")
        await press(pilot, *["ctrl+z"] * 12)
        assert screen.has_class("-ended"), "it is as it was, and was left so"


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_a_page_has_the_rows_of_the_paper_and_stands_out_without_colour(size, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    async with blank_app().run_test(size=size) as pilot:
        await settle(pilot)
        assert editor(pilot).region.height >= 5, "below the whole statement"
        await type_keys(pilot, "W_f = 1.40 N>W_f = 13.73 N>")
        assert editor(pilot).region.height >= size[1] - (10 if size[1] == 24 else 20)
        assert editor(pilot).region.width >= 36
        assert [row[:2] for row in rows_of(pilot)] == ["  ", "✓ "]


# In a drill.


async def test_a_page_of_a_drill_tells_only_what_is_saved_where_verdicts_wait(tmp_path):
    async with blank_drill(tmp_path, 'feedback = "at the end"').run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await type_keys(pilot, "d_s = 99.9 cm>d_b = 0.555 mm>x>")
        assert [row[0] for row in rows_of(pilot)] == ["•", "•", "?"]
        await press(pilot, "up", "up")
        assert said(pilot).startswith("• d_b: Saved.")
        assert not any(word in all_text(pilot) for word in ("✓", "✗", "Right", "Not yet"))


async def test_each_task_keeps_its_page_and_the_last_line_is_left_with_it(tmp_path):
    """F9 and F10 leave the line that the cursor is on, so that all that is seen is handed in."""
    async with blank_drill(tmp_path).run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await type_keys(pilot, "d_s = 99.9 cm>d_b = blue>W_s = 54 N")
        await press(pilot, "f9")
        assert editor(pilot).lines == [""]
        await type_keys(pilot, "W_f = 1.40 N")
        await press(pilot, "f7")
        assert [row[0] for row in rows_of(pilot)] == ["✗", "?", "✗"]
        assert editor(pilot).row == 3
        await type_keys(pilot, "third")
        await press(pilot, "f10")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, HandedScreen)
        place = screen.sitting.place
    lines = [line for line in fields_in(place) if line["kind"] == "line"]
    assert [(line["task"], line["text"]) for line in lines] == [
        (1, "d_s = 99.9 cm"),
        (1, "d_b = blue"),
        (1, "W_s = 54 N"),
        (2, "W_f = 1.40 N"),
        (1, "third"),
    ]


@pytest.mark.parametrize("key", ["escape", "ctrl+q"])
async def test_who_leaves_a_drill_has_the_last_line_kept(key, tmp_path):
    async with blank_drill(tmp_path).run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await type_keys(pilot, "d_s = 99.9 cm>W_s = 54 N")
        await pilot.press(key)
        if key == "escape":
            await settle(pilot)
    assert texts_in(screen.sitting.place) == ["d_s = 99.9 cm", "W_s = 54 N"]


async def test_a_line_that_is_not_on_the_disk_shows_it_and_is_tried_again(tmp_path, disk: Disk):
    """What was written after it follows; Enter tries at once."""
    async with blank_drill(tmp_path, records=tmp_path / "r").run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        disk.broken.append(tmp_path)
        await type_keys(pilot, "W_s = 54 N>W_b = 9.81 N>")
        assert [row[0] for row in rows_of(pilot)] == ["!", " "]
        assert said(pilot).startswith("Not saved: ")
        disk.broken.clear()
        await press(pilot, "enter")
        assert [row[0] for row in rows_of(pilot)] == ["✗", "✗"]
        assert "Not saved" not in said(pilot)
        assert texts_in(screen.sitting.place) == ["W_s = 54 N", "W_b = 9.81 N"]


async def test_what_was_changed_while_it_waited_is_entered_as_it_is_now(tmp_path, disk: Disk):
    async with blank_drill(tmp_path, records=tmp_path / "r").run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        disk.broken.append(tmp_path)
        await type_keys(pilot, "W_s = 54 N>")
        await press(pilot, "up", "end", "left", "left", "5")
        disk.broken.clear()
        screen.try_again()
        await settle(pilot)
        assert "The record can be written again" in said(pilot)
        await press(pilot, "down")
        assert rows_of(pilot) == ["✗  W_s = 545 N"]
        assert texts_in(screen.sitting.place) == ["W_s = 545 N"]


async def test_a_drill_that_is_gone_on_with_shows_its_pages(tmp_path):
    async with blank_drill(tmp_path, "attempts = 2").run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await type_keys(pilot, "W_s = 54 N>d_s = 99.9 cm>")
        await press(pilot, "escape", "escape")
    async with blank_drill(tmp_path, "attempts = 2").run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        assert [row[0] for row in rows_of(pilot)] == ["✗", "✗"]
        await press(pilot, "up")
        assert said(pilot).startswith("✗ d_s: Not yet")
        assert "1 try is left" in said(pilot)


@pytest.mark.parametrize("by", ["clock", "enter"])
async def test_when_the_time_is_up_no_more_of_the_page_is_taken(by, tmp_path):
    async with blank_drill(tmp_path, "minutes = 30").run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await type_keys(pilot, "d_s = 99.9 cm>W_s = 54 N")
        let_pass(screen.sitting, 1800)
        if by == "enter":
            await type_keys(pilot, ">third>")
        screen.tick()
        await settle(pilot)
        assert isinstance(pilot.app.screen, HandedScreen)
        assert texts_in(screen.sitting.place) == ["d_s = 99.9 cm"]


async def test_who_leaves_twice_at_once_and_goes_on_is_not_sent_away_again(tmp_path):
    async with blank_drill(tmp_path).run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await type_keys(pilot, "W_s = 54 N")
        screen.action_leave()
        screen.action_leave()
        await settle(pilot)
        screen.action_leave()
        await press(pilot, "enter")
        await type_keys(pilot, ">third>")
        assert pilot.app.screen is screen


async def test_a_line_that_is_empty_already_stays_apart_from_the_one_above():
    """Ctrl+U empties a line; it joins none."""
    async with blank_app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await type_keys(pilot, "W_f = 13.73 N>")
        await press(pilot, "ctrl+u", "ctrl+u")
        assert page_screen(pilot).query_one(PageEditor).text == "W_f = 13.73 N\n"
