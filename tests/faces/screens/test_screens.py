"""The full screen, driven by its keys."""

from __future__ import annotations

import re
import subprocess
import sys
import threading
from collections.abc import Awaitable, Callable
from dataclasses import replace
from functools import partial

import pytest
from helpers.drill_screens import all_text
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import (
    PAIL,
    app_with,
    enter,
    paper,
    right_entry,
    said,
    still_written,
    text_of,
    work_screen,
    wrong_entry,
)
from helpers.variety import VARIED
from leverstep.course.faults import Fault, FileError
from leverstep.course.problem import Problem
from leverstep.course.shelf import Problems, Shelf, load_shelf
from leverstep.faces.openings import Opening
from leverstep.faces.screens import work
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.board_screen import BoardScreen
from leverstep.faces.screens.closing import Closing
from leverstep.faces.screens.explore import ExploreScreen
from leverstep.faces.screens.help import HelpScreen, MissingScreen, ReadScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.paper import MARGIN, Paper, PaperHeading
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.side_sheet import Diagram
from leverstep.faces.screens.work import WorkScreen
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Static

Settle = Callable[[Pilot[int]], Awaitable[None]]


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf()


async def finish(pilot: Pilot[int], by_hand: int = 1) -> None:
    """Enter all lines right: the last ones on the screen, those before straight in the working."""
    screen = work_screen(pilot)
    steps = screen.practice.working.steps
    for step in steps[:-by_hand]:
        screen.practice.enter(step.key, right_entry(screen, step))
    screen.paint()
    for step in steps[-by_hand:]:
        assert screen.step_at_hand is step
        await enter(pilot, right_entry(screen, step))
        assert screen.step_at_hand is not step, said(pilot)


@pytest.mark.parametrize("name", ["elbow-both-attachments", "elbow-tilted-forearm"])
async def test_a_long_heading_stays_beside_the_margin(shelf, name):
    app = app_with(shelf, name)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        sheet = pilot.app.screen.query_one("#written", Static)
        await press(pilot, "f5")
        rows = str(sheet.content).split("\n")
        assert max(map(len, rows)) <= sheet.size.width, "Textual would wrap it below the margin"
        assert {row[:MARGIN] for row in rows} == {"   ", " ▸ "}
        drawn = [str(row) for row in PaperHeading("Angles and moment arms").drawn(MARGIN + 18)]
        assert drawn == ["   Angles and moment", "     arms"]


@pytest.mark.parametrize(
    ("name", "size"), [(PAIL, (80, 24)), ("plain-wheelbarrow", (120, 36))], ids=["80", "120"]
)
async def test_a_problem_is_worked_from_first_to_last_line(shelf, name, size):
    """Right entries lead to the closing panel, with every line marked ok."""
    app = app_with(shelf, name)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        steps = work_screen(pilot).practice.working.steps
        await finish(pilot, by_hand=len(steps))
        assert {margin for margin, _ in paper(pilot).values()} == {"✓ ok"}
        assert app.screen.query_one(Closing).display
        assert f"All {len(paper(pilot))} lines are right" in text_of(app.screen, "#headline")


async def test_a_wrong_entry_at_each_kind_of_step_is_not_yet_right(shelf):
    """The margin and the answer both say so, and the text stays in the field."""
    app = app_with(shelf, "elbow-tilted-forearm")  # it has a step of nearly every kind
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen, seen = work_screen(pilot), set()
        while (step := screen.step_at_hand) is not None:
            if step.kind.name not in seen:
                seen.add(step.kind.name)
                await enter(pilot, wrong_entry(step))
                assert "✗ Not yet" in said(pilot), step.key
                assert paper(pilot)[step.key][0] == "✗ not yet"
                assert screen.query_one("#entry", Input).value == wrong_entry(step)
            # straight into the working: that the screen takes right entries is tested above
            screen.practice.enter(step.key, right_entry(screen, step))
            screen.paint()


@pytest.mark.parametrize("rows", [20, 24])
async def test_the_hint_key_shows_one_hint_after_the_other(shelf, rows):
    """Four hints in their order, the new one in sight, then word that there are no more."""
    async with app_with(shelf).run_test(size=(80, rows)) as pilot:
        await settle(pilot)
        for number in (1, 2, 3, 4):
            await pilot.press("f2")
            await settle(pilot)
            assert re.findall(r"Hint (\d) of 4", said(pilot)) == [*"1234"[:number]]
            assert f"Hint {number} of 4" in all_text(pilot)
        await pilot.press("f2")
        await settle(pilot)
        assert "There is no further hint for W_f." in said(pilot)


async def test_an_earlier_line_can_be_changed(shelf):
    """Its text comes back; the lines that use it are checked again, and that is told."""
    async with app_with(shelf).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        right = right_entry(screen, screen.step_at_hand)
        await enter(pilot, "99.9 N")
        await pilot.press("f3")
        await settle(pilot)
        assert paper(pilot)["W_f"][0] == "» skipped"
        while (step := screen.step_at_hand).key != "M_f":
            screen.practice.enter(step.key, right_entry(screen, step))
            screen.paint()
        d_f = screen.practice.working.lines["d_f"].reading.value
        await enter(pilot, f"-{99.9 * d_f:.5g} N·m")
        assert paper(pilot)["M_f"][0] == "⇒ follows"
        entry = screen.query_one("#entry", Input)
        entry.value = "half typed"
        while screen.step_at_hand.key != "W_f":
            await pilot.press("shift+tab")
        assert entry.value == "99.9 N"
        await enter(pilot, right)
        assert paper(pilot)["W_f"][0] == "✓ ok"
        assert paper(pilot)["M_f"][0] == "✗ not yet"
        assert "M_f is not right any more" in said(pilot)


async def test_another_line_goes_to_the_paper_and_the_field_is_free(shelf):
    """A wrong one stays in the field to be mended; the line asked for stays the same."""
    async with app_with(shelf).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        entry = screen.query_one("#entry", Input)
        assert text_of(screen, "#prompt") == "W_f ="
        await enter(pilot, "W_l = 8.1 N")
        assert said(pilot).startswith("✗ Not yet, and no slip we know explains it. That is W_l.")
        assert entry.value == "W_l = 8.1 N"
        await press(pilot, "f2")
        assert said(pilot).startswith("✗ W_l: Not yet, and no slip we know explains it.")
        await enter(pilot, "W_l = 80.08 N")
        assert said(pilot).startswith("✓ Right. That is W_l. W_f is still asked for.")
        assert (entry.value, paper(pilot)["W_l"][0]) == ("", "✓ ok")
        assert text_of(screen, "#prompt") == "W_f ="


async def test_text_half_typed_is_kept_while_another_line_is_looked_at(shelf):
    """Shift+Tab and Tab bring it back."""
    async with app_with(shelf).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await enter(pilot, right_entry(screen, screen.step_at_hand))
        entry = screen.query_one("#entry", Input)
        entry.value = "12.5 lb * "
        await pilot.press("shift+tab")
        assert entry.value != "12.5 lb * "
        await pilot.press("tab")
        assert entry.value == "12.5 lb * "


async def test_a_working_is_gone_on_with_after_quitting(shelf):
    """The home screen lists it first, and it opens where it was left."""
    app = app_with(shelf)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        for _ in range(3):
            await enter(pilot, right_entry(screen, screen.step_at_hand))
        await pilot.press("ctrl+q")
    again = LeverstepApp(material(shelf))
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        options = again.screen.query_one("#choices", OptionList).options
        assert [option.id for option in options[:2]] == [None, "go-on:0"]
        assert "A pail in the hand" in str(options[1].prompt)
        await pilot.press("enter")
        await settle(pilot)
        assert work_screen(pilot).step_at_hand.key == "d_l"
        assert [m for m, _ in paper(pilot).values()][:4] == ["✓ ok"] * 3 + [""]


async def test_a_problem_is_chosen_by_keys_with_the_numbers_typed(shelf):
    """Filter, seed field, list and Enter; Esc leads home again."""
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        while "Joint: elbow" not in text_of(app.screen, "#shown"):
            await pilot.press("f3")
        await pilot.press("f4")
        app.screen.query_one("#seed", Input).value = "k7"
        await pilot.press("enter")
        await settle(pilot)
        assert work_screen(pilot).practice.question.seed == "k7"
        first = next(card.id for card in shelf.cards if card.joint == "elbow")
        assert work_screen(pilot).practice.question.problem.id == first
        await pilot.press("escape")
        assert isinstance(app.screen, HomeScreen)


async def test_new_numbers_follow_the_end(shelf):
    """The same problem opens again with other numbers."""
    app = app_with(shelf, "plain-wheelbarrow")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await finish(pilot)
        await pilot.press("f7")
        await settle(pilot)
        practice = work_screen(pilot).practice
        assert practice.question.problem.id == "plain-wheelbarrow"
        assert practice.question.seed != "a1"
        assert not practice.working.lines


async def test_lines_left_are_named_at_the_end(shelf):
    """All lines left: the panel says which are open, and ↑ leads back to the last."""
    app = app_with(shelf, "plain-wheelbarrow")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        for step in screen.practice.working.steps[:-1]:
            screen.practice.leave(step.key)
        screen.paint()
        await pilot.press("f3")
        await settle(pilot)
        assert "Still open" in text_of(screen, "#headline")
        await pilot.press("up")
        assert screen.step_at_hand is screen.practice.working.steps[-1]
        await pilot.pause()
        assert screen.query_one("#entry", Input).has_focus


@pytest.mark.parametrize("typed", ["[red]x[/]", "[/F]", "$W_l [bold", "[@click=app.quit]q[/]"])
async def test_markup_that_is_typed_is_shown_as_typed(shelf, typed):
    """It is text, at the desk and after an equation on the paper."""
    app = app_with(shelf)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, typed)
        assert work_screen(pilot).query_one("#entry", Input).value == typed
        assert said(pilot).startswith("? Not judged")


async def test_a_small_terminal_is_told_what_is_needed(shelf):
    """The message covers the screen until there is room."""
    app = app_with(shelf)
    async with app.run_test(size=(70, 20)) as pilot:
        await settle(pilot)
        cover = app.screen.query_one(TooSmall)
        assert cover.display
        assert "needs 80 × 20" in str(cover.content)
        assert "--plain" in str(cover.content)
        await pilot.resize_terminal(80, 20)
        await pilot.pause()
        assert not cover.display


@pytest.mark.parametrize("rows", [20, 23])
async def test_a_line_is_worked_where_a_terminal_is_a_little_low(shelf, rows):
    """The statement, the line, its verdict, two hints and the caution can all be seen."""
    app = app_with(shelf)
    async with app.run_test(size=(80, rows)) as pilot:
        await settle(pilot)
        await enter(pilot, "1.40 N")
        await press(pilot, "f2", "f2")
        shown = all_text(pilot)
        for part in ("A groom holds", "W_f = 1.40 N", "Not yet.", "Hint 2 of 4", "Idealised;"):
            assert part in shown, part
        await press(pilot, "f5")
        assert "[W_f]" in all_text(pilot)
        await pilot.resize_terminal(10, 3)
        await pilot.resize_terminal(80, rows)
        await settle(pilot)
        assert "W_f = 1.40 N" in all_text(pilot)


async def test_the_diagram_marks_the_line_at_hand(shelf):
    """It lies behind the statement where there is little room, and beneath it where there is."""
    app = app_with(shelf)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        diagram = app.screen.query_one(Diagram)
        assert not diagram.display
        await pilot.press("f5")
        await pilot.pause()
        assert "[W_f]" in str(diagram.content)
        await pilot.resize_terminal(120, 36)
        await pilot.pause()
        assert diagram.display
        assert app.screen.query_one("#statement").display


async def test_help_and_looks(shelf):
    """F1 opens the help and Esc closes it; F6 changes between dark and light."""
    app = app_with(shelf)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("f1")
        assert isinstance(app.screen, HelpScreen)
        await pilot.press("escape")
        assert isinstance(app.screen, WorkScreen)
        before = app.theme
        await pilot.press("f6")
        assert app.theme != before


async def test_no_colours_where_none_are_wanted(shelf, monkeypatch):
    """With NO_COLOR the terminal's own colours stay."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_with(shelf)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, wrong_entry(work_screen(pilot).step_at_hand))
        assert app.no_color
        assert app.native_ansi_color


async def test_broken_problem_files_are_mentioned(shelf):
    """One line, with the way to learn more."""
    faults = (Fault("[b]bad.toml", "joint", "nothing", "a joint"),)
    broken = Shelf(shelf.cards, shelf.problems, faults)
    async with LeverstepApp(material(broken)).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "[b]bad.toml" in text_of(pilot.app.screen, "#faults")


async def test_a_folder_that_cannot_be_written_is_told(shelf, tmp_path, monkeypatch):
    """The working goes on, and says that nothing is saved."""
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "file"))
    async with app_with(shelf).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "Not saved" in said(pilot)


def test_the_first_frame_waits_for_no_algebra():
    """Importing the app loads neither sympy nor pint, nor what only an opened problem needs."""
    heavy = ("sympy", "pint", "leverstep.statics", "leverstep.faces.openings", "leverstep.entry")
    loaded = f"print([m for m in {heavy} if m in sys.modules])"
    probe = f"import sys, leverstep.faces.screens.app; {loaded}"
    run = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


@pytest.mark.parametrize("rows", [24, 31, 34, 35, 36, 37, 38])
async def test_every_diagram_is_drawn_at_every_height(shelf, rows: int):
    """However little room there is left, the picture and what is told below it come to an end."""
    async with app_with(shelf, "knee-seated-extension").run_test(size=(120, rows)) as pilot:
        await settle(pilot)
        await pilot.press("f5")
        await settle(pilot)
        diagram = pilot.app.screen.query_one(Diagram)
        assert diagram.size.height < 10 or "F_m" in str(diagram.content)


async def test_the_diagram_key_is_offered_again_on_a_smaller_screen(shelf):
    """Where both pages fit there is nothing to turn; on a smaller screen there is."""
    async with app_with(shelf).run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        assert not work_screen(pilot).check_action("turn", ())
        await pilot.resize_terminal(80, 24)
        await settle(pilot)
        assert work_screen(pilot).check_action("turn", ())


async def test_a_key_before_the_list_is_there_does_no_harm(shelf):
    """F3, F4 and Esc wait for the list."""
    async with LeverstepApp(material(shelf)).run_test(size=(80, 24)) as pilot:
        for key in ("f3", "f4", "f7", "escape"):
            await pilot.press(key)
        await settle(pilot)
        assert pilot.app.screen.query("#choices")


async def test_own_numbers_are_typed_on_the_home_screen(shelf):
    """The field names what a problem takes; what is typed there is worked with."""
    async with LeverstepApp(material(shelf)).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = pilot.app.screen.query_one("#choices", OptionList)
        own = pilot.app.screen.query_one("#own", Input)
        listed.highlighted = listed.get_option_index("elbow-both-attachments")
        await settle(pilot)
        assert own.placeholder == "m_b = … kg; L = … cm; d_l = … cm"
        own.value = "m_b = 61,5; L = 26"
        await pilot.press("enter")
        await settle(pilot)
        assert "a mass of 61.5 kg" in work_screen(pilot).practice.question.statement


@pytest.mark.parametrize(
    ("keys", "typed"),
    [
        ("12<3", "13"),
        ("1.65^9.81 N", "9.81 N"),
        ("12<3 N>", ""),
    ],
)
async def test_keys_that_come_in_one_piece_are_done_in_their_order(shelf, keys, typed):
    """As over a slow line: < is Backspace, ^ is Ctrl+U, > is Enter."""
    named = {"<": "backspace", "^": "ctrl+u", ">": "enter"}
    app = app_with(shelf, PAIL)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for key in keys:
            character = None if key in named else key
            app.post_message(events.Key(named.get(key, key), character))
        await settle(pilot)
        if not typed:
            (line,) = work_screen(pilot).practice.working.lines.values()
            assert line.text == "13 N"
        else:
            assert pilot.app.screen.query_one("#entry", Input).value == typed


async def test_several_lines_pasted_are_entered_up_to_the_first_that_is_not_right(shelf):
    app = app_with(shelf, PAIL)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        entry = pilot.app.screen.query_one("#entry", Input)
        app.post_message(events.Paste("1.65*9.81 N\n"))
        await settle(pilot)
        assert entry.value == "1.65*9.81 N"
        assert "pasted" not in said(pilot)
        entry.value = ""
        right = work_screen(pilot).practice.question.right
        keys = ("W_f", "W_l", "L")
        app.post_message(
            events.Paste(
                "\n".join(f"{right[key]:.5g} {unit}" for key, unit in zip(keys, "NNm", strict=True))
            )
        )
        await settle(pilot)
        assert "3 lines of 3 pasted are entered." in said(pilot)
        assert list(work_screen(pilot).practice.working.lines) == ["W_f", "W_l", "L"]
        app.post_message(events.Paste(f"{right['d_l']:.5g} m\n9.9 m\n0.682*L"))
        await settle(pilot)
        assert "2 lines of 3 pasted are entered. The other 1 is not taken." in said(pilot)
        assert list(work_screen(pilot).practice.working.lines)[3:] == ["d_l", "d_m"]
        assert entry.value == "9.9 m"  # to be mended


def held_open(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Hold up whatever is opened until an event is set, and return that."""
    ready, opened = threading.Event(), work.open_practice
    monkeypatch.setattr(work, "open_practice", lambda *how: ready.wait(30) and opened(*how))
    return ready


@pytest.mark.parametrize(
    ("typed", "left"),
    [(["13.73 N"], ""), (["13.73 N", "80.08 N"], ""), (["13.73 N", "8 N", "0.15 m"], "8 N")],
)
async def test_what_is_entered_while_a_problem_is_prepared_is_checked_then(
    shelf, monkeypatch, typed, left
):
    """As if each had been entered at its line, up to the first that is not right."""
    ready = held_open(monkeypatch)
    async with app_with(shelf).run_test(size=(80, 24)) as pilot:
        screen = work_screen(pilot)
        for text in typed:
            screen.query_one("#entry", Input).value = text
            await screen.query_one("#entry", Input).action_submit()
            await pilot.pause()
        assert "What you entered is kept" in all_text(pilot)
        ready.set()
        await settle(pilot)
        assert len(screen.practice.working.lines) == min(2, len(typed))
        assert screen.query_one("#entry", Input).value == left


async def test_what_is_entered_before_a_blank_sheet_is_there_stands_on_it(shelf, monkeypatch):
    ready = held_open(monkeypatch)
    async with free_app(shelf, Guidance.BLANK).run_test(size=(80, 24)) as pilot:
        screen = work_screen(pilot)
        screen.query_one("#entry", Input).value = "W_f = 13.73 N"
        await screen.query_one("#entry", Input).action_submit()
        await pilot.pause()
        ready.set()
        await settle(pilot)
        assert "W_f = 13.73 N" in screen.page.texts


async def test_what_can_be_measured_is_named_in_full(shelf):
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = pilot.app.screen.query_one("#choices", OptionList)
        listed.highlighted = listed.get_option_index("elbow-both-attachments")
        await settle(pilot)
        own = pilot.app.screen.query_one("#own", Input)
        assert max(len(card.measurable) for card in shelf.cards) <= own.content_size.width
        seed = pilot.app.screen.query_one("#seed", Input)
        assert len(seed.placeholder) <= seed.content_size.width


async def test_own_numbers_out_of_reason_are_refused_in_words(shelf):
    async with LeverstepApp(material(shelf)).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = pilot.app.screen.query_one("#choices", OptionList)
        listed.highlighted = listed.get_option_index("elbow-both-attachments")
        own = pilot.app.screen.query_one("#own", Input)
        own.value = "m_b = 5"
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, HomeScreen), "it is judged before anything is opened"
        assert own.has_focus
        assert text_of(pilot.app.screen, "#guidance") == "✗ m_b of 5 kg is outside 35 to 150 kg."
        own.value = "m_b = 50"
        await settle(pilot)
        assert "m_b 35 to 150 kg" in text_of(pilot.app.screen, "#guidance")
        await press(pilot, "enter", "enter")
        assert "a mass of 50 kg" in work_screen(pilot).practice.question.statement


FREE = (Guidance.LANDMARKS, Guidance.BLANK)


def free_app(shelf: Shelf, guidance: Guidance, name: str = PAIL) -> LeverstepApp:
    return LeverstepApp(material(shelf), Opening(shelf.problems[name], "a1", guidance=guidance))


def free_line(screen: WorkScreen, step: Step) -> str:
    """Return a right line that says itself which one it is."""
    entry = right_entry(screen, step)
    return f"{step.key} = {entry}" if step.kind.is_number else entry


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_a_problem_is_worked_freely_from_first_to_last_line(shelf, guidance, size):
    """Every line in its order; the paper has them all, and the end counts what was asked for."""
    async with free_app(shelf, guidance, "elbow-both-attachments").run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        working = screen.practice.working
        for step in working.steps:
            await enter(pilot, free_line(screen, step))
            assert screen.query_one("#entry", Input).value == ""
        assert {margin for margin, _ in paper(pilot).values()} == {"✓ ok"}
        assert list(paper(pilot)) == [step.key for step in working.steps]
        assert screen.query_one(Closing).display
        total = len(working.asked)
        headline = text_of(screen, "#headline")
        assert headline == f"All {total} lines asked for are right. Well done."
        assert f"{total} of {total} found" in text_of(screen, "#progress")


async def test_landmarks_ask_for_the_main_results_only(shelf):
    """The paper has the landmarks and what is written; a bare value is for the one at hand."""
    async with free_app(shelf, Guidance.LANDMARKS).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert list(paper(pilot)) == ["M_sum", "F_m", "MA", "AR", "class", "R_y", "R_dir"]
        assert "Sum of the known moments" in text_of(screen, "#ask")
        assert "Any other line may be written with its symbol" in text_of(screen, "#ask")
        assert text_of(screen, "#prompt") == "line:"
        shown = screen.query_one("#entry", Input).placeholder
        assert shown == "for example -4.56 N·m or F_m = 123.4 N"
        await enter(pilot, "W_f = 13.73 N")
        assert said(pilot) == "✓ W_f: Right."
        assert paper(pilot)["W_f"] == ("✓ ok", "W_f = 13.73 N")
        await enter(pilot, "-32.91 N·m")
        assert said(pilot) == "✓ M_sum: Right."
        assert screen.step_at_hand.key == "F_m"
        assert "1 of 7 found" in text_of(screen, "#progress")


async def test_a_blank_sheet_says_what_is_to_be_found(shelf):
    """Nothing stands on the paper but what the student writes."""
    async with free_app(shelf, Guidance.BLANK).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert paper(pilot) == {}
        asks = text_of(screen, "#ask")
        assert asks == (
            "Still to find: F_m, MA, AR, class, R_y, direction. "
            "Write a line, such as F_m = 123.4 N."
        )
        await enter(pilot, "class: third")
        assert said(pilot) == "✓ class: Right."
        assert screen.query_one("#entry", Input).value == ""
        assert list(paper(pilot)) == ["class"]
        assert "Still to find: F_m, MA, AR, R_y, direction." in text_of(screen, "#ask")


@pytest.mark.parametrize("guidance", FREE)
async def test_a_wrong_free_line_stays_to_be_mended(shelf, guidance):
    """It is named and told where; the hints are for it until it is right."""
    async with free_app(shelf, guidance).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "W_f = 1.40 N")
        assert said(pilot) == "✗ W_f: Not yet. The slip is in this line. A hint tells more."
        assert still_written(work_screen(pilot)) == "W_f = 1.40 N"
        assert paper(pilot)["W_f"] == ("✗ not yet", "W_f = 1.40 N")
        await press(pilot, "f2")
        assert "✗ W_f: Not yet." in said(pilot)
        assert "Hint 1 of 4 for W_f  The mass is 1.40 kg." in said(pilot)
        await enter(pilot, "W_f = 13.73 N")
        assert said(pilot) == "✓ W_f: Right."
        await press(pilot, "f2")
        assert "Hint 1 of 4 for W_l" in said(pilot)


@pytest.mark.parametrize("typed", ["2 = 2", "F_m + 2 = 673.7", "hello", "[red]x[/]"])
@pytest.mark.parametrize("guidance", FREE)
async def test_what_is_no_line_of_the_problem_is_not_judged(shelf, guidance, typed):
    """It stays in the field, and nothing comes on the paper."""
    async with free_app(shelf, guidance).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        before = paper(pilot)
        await enter(pilot, typed)
        assert said(pilot).startswith("? Not judged")
        assert still_written(work_screen(pilot)) == typed
        assert paper(pilot) == before


async def test_a_formula_in_symbols_stays_in_the_field_for_its_numbers(shelf):
    """It is right, and no line yet."""
    async with free_app(shelf, Guidance.BLANK).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "F_m = (W_f*d_f + W_l*d_l)/d_m")
        assert said(pilot).startswith("✓ F_m: The formula is right; its line is done once")
        assert still_written(work_screen(pilot)) == "F_m = (W_f*d_f + W_l*d_l)/d_m"
        assert paper(pilot) == {}


async def test_what_is_missing_can_be_asked_for(shelf):
    """F8 shows what is to be found and the lines that lead there, and closes it again."""
    async with free_app(shelf, Guidance.LANDMARKS).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "W_f = 13.73 N")
        await press(pilot, "f8")
        screen = pilot.app.screen
        assert isinstance(screen, MissingScreen)
        shown = str(screen.query(Static).first().content)
        assert "  F_m        Force of the elbow flexors, in newtons" in shown
        assert "Lines that lead to M_sum\n  W_l        Weight of the pail, in newtons" in shown
        assert "W_f" not in shown
        assert max(map(len, shown.splitlines())) <= 72
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, WorkScreen)


async def test_where_every_line_is_asked_for_nothing_is_missing_unseen(shelf):
    async with app_with(shelf).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, WorkScreen)


@pytest.mark.parametrize("guidance", [*Guidance])
async def test_the_keys_fit_the_least_width(shelf, guidance):
    """None is cut off at the foot of the screen, while working and at home."""
    async with free_app(shelf, guidance).run_test(size=(80, 24)) as pilot:
        for kind in (WorkScreen, HomeScreen):
            await settle(pilot)
            assert isinstance(pilot.app.screen, kind)
            keys = pilot.app.screen.query("FooterKey")
            assert keys
            assert all(key.virtual_region.right - 1 <= 80 for key in keys)
            pilot.app.action_home()


async def test_leaving_and_going_back_while_lines_are_free(shelf):
    """F3 skips what is at hand; Shift+Tab leads to the lines that stand on the paper."""
    async with free_app(shelf, Guidance.LANDMARKS).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        entry = screen.query_one("#entry", Input)
        await enter(pilot, "W_f = 13.73 N")
        await enter(pilot, "-5.00 N·m")
        await press(pilot, "f3")
        assert paper(pilot)["M_sum"] == ("» skipped", "M_sum = -5.00 N·m")
        assert screen.step_at_hand.key == "F_m"
        assert entry.value == ""
        entry.value = "W_l = "
        await press(pilot, "shift+tab")
        assert (screen.dialogue.chosen, entry.value) == ("M_sum", "-5.00 N·m")
        assert text_of(screen, "#prompt") == "M_sum ="
        await press(pilot, "shift+tab")
        assert (screen.dialogue.chosen, entry.value) == ("W_f", "13.73 N")
        await press(pilot, "f4")
        assert (screen.dialogue.chosen, entry.value) == ("", "W_l = ")
        assert text_of(screen, "#prompt") == "line:"
        await press(pilot, "shift+tab")
        await enter(pilot, "-32.91 N·m")
        assert (screen.dialogue.chosen, paper(pilot)["M_sum"][0]) == ("", "✓ ok")


async def test_a_wrong_line_that_was_not_asked_for_is_named_at_the_end(shelf):
    async with free_app(shelf, Guidance.BLANK).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await enter(pilot, "L = 3 m")
        for step in screen.practice.working.asked:
            screen.practice.write(free_line(screen, step))
        screen.paint()
        await pilot.pause()
        headline = text_of(screen, "#headline")
        assert headline == "6 of 6 lines asked for are right. Still open: L."


async def test_the_line_judged_last_is_kept_in_sight(shelf):
    """Also where the paper is longer than its room and another line is at hand."""
    async with free_app(shelf, Guidance.LANDMARKS, "elbow-both-attachments").run_test(
        size=(80, 24)
    ) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        working = screen.practice.working
        for step in working.steps[:-3]:
            screen.practice.write(free_line(screen, step))
        screen.paint()
        await settle(pilot)
        sheet = screen.query_one(Paper)
        assert sheet.scroll_offset.y > 0
        await enter(pilot, "m_f = 1.00 kg")
        assert sheet.scroll_offset.y == 0


@pytest.mark.parametrize("guidance", FREE)
async def test_the_guidance_is_chosen_at_home_and_kept(shelf, guidance):
    """F5 changes it; new numbers keep it, and so does a working that is gone on with."""
    async with LeverstepApp(material(shelf)).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "every line" in text_of(pilot.app.screen, "#guidance")
        for degree in [*Guidance][1:]:
            await pilot.press("f5")
            if degree is guidance:
                break
        label = {"landmarks": "landmarks", "blank": "blank sheet"}[guidance]
        assert text_of(pilot.app.screen, "#guidance").startswith(f"Guidance: {label}")
        listed = pilot.app.screen.query_one("#choices", OptionList)
        listed.highlighted = listed.get_option_index("plain-crowbar")
        await press(pilot, "enter")
        screen = work_screen(pilot)
        assert screen.practice.working.guidance is guidance
        await enter(pilot, "W_l = 5.00 N")
        await press(pilot, "escape")
        while "every line" not in text_of(pilot.app.screen, "#guidance"):
            await pilot.press("f5")
        listed.highlighted = listed.get_option_index("go-on:0")
        await press(pilot, "enter")
        screen = work_screen(pilot)
        assert screen.practice.working.guidance is guidance
        for step in screen.practice.working.asked[:-1]:
            screen.practice.write(free_line(screen, step))
        screen.paint()
        await enter(pilot, free_line(screen, screen.step_at_hand))
        await press(pilot, "f7")
        practice = work_screen(pilot).practice
        assert practice.working.guidance is guidance
        assert not practice.working.lines


async def test_a_habit_is_named_over_two_problems(shelf):
    """The same slip in the next problem is told as a habit, with the hint that names it."""
    app = app_with(shelf, "elbow-tilted-forearm", "7")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "31.39 N")  # 3.2 lb times g
        assert "A habit" not in said(pilot)
        plank = Opening(shelf.problems["body-plank-two-supports"], "7")
        app.push_screen(WorkScreen(plank, app.visit))
        await settle(pilot)
        await enter(pilot, "1570 N")  # 160 lb times g
        assert "A habit" not in said(pilot)
        await press(pilot, "f2", "f2")
        assert "A habit to watch: not converted to kilograms, twice so far." in said(pilot)


async def test_what_was_skipped_is_gone_to_and_gives_no_answer_away(shelf):
    """At the end F4 leads to the first line still open; exploring has other numbers till then."""
    app = app_with(shelf, PAIL)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        working = screen.practice.working
        for step in working.steps[1:]:
            screen.practice.enter(step.key, right_entry(screen, step))
        screen.paint()
        await press(pilot, "f3")
        assert screen.step_at_hand is None
        assert "F4 goes to the first line that is still open" in text_of(screen, "#account")
        await press(pilot, "ctrl+g")
        numbers = app.screen.standing.exploration.own.seed
        assert numbers != screen.practice.question.seed
        await press(pilot, "escape", "f4")
        assert screen.step_at_hand is working.steps[0]
        await enter(pilot, right_entry(screen, working.steps[0]))
        assert "F4" not in text_of(screen, "#account")
        await press(pilot, "ctrl+g")
        assert app.screen.standing.exploration.own is screen.practice.question


class SlowProblems(Problems):
    """The problems on a disk that does nothing before it is `free`, and that may break."""

    def __init__(self, shelf: Shelf) -> None:
        super().__init__({ident: partial(shelf.find, ident) for ident in shelf.problems})
        self.free = threading.Event()
        self.is_broken = False

    def __getitem__(self, ident: str) -> Problem:
        assert self.free.wait(20), "nobody is left to set it free: the screen waits itself"
        if self.is_broken:
            raise FileError([Fault(f"{ident}.toml", "", "it is cut short", "a problem")])
        return super().__getitem__(ident)


@pytest.mark.parametrize("key", ["enter", "ctrl+t", "ctrl+g"])
@pytest.mark.parametrize("is_broken", [False, True])
async def test_keys_are_answered_while_a_problem_is_read_from_a_slow_disk(shelf, key, is_broken):
    """It opens when it is read, once; where it can't be read it is told why."""
    problems = SlowProblems(shelf)
    problems.is_broken = is_broken
    app = LeverstepApp(material(replace(shelf, problems=problems)))
    async with app.run_test(size=(80, 24)) as pilot:
        problems.free.set()
        await settle(pilot)
        problems.free.clear()
        job = text_of(app.screen, "#job")
        await pilot.press(key, key, "f3")
        assert isinstance(app.screen, HomeScreen)
        assert text_of(app.screen, "#job") == "One moment: the problem is being read …"
        assert "Joint: all" not in text_of(app.screen, "#shown")
        problems.free.set()
        await settle(pilot)
        assert len(app.screen_stack) == 2
        opened = {"enter": WorkScreen, "ctrl+t": BoardScreen, "ctrl+g": ExploreScreen}
        assert isinstance(app.screen, ReadScreen if is_broken else opened[key])
        if is_broken:
            told = " ".join(str(one.content) for one in app.screen.query(Static))
            assert "This problem can't be opened. " in told
            assert "it is cut short" in told
        await press(pilot, "escape")
        assert text_of(app.screen, "#job") == job


async def test_the_likely_slip_is_told_at_once_where_that_is_wanted(shelf):
    """F9 says so, and the next wrong line is told its slip; a new working begins that way."""
    app = app_with(shelf, "elbow-tilted-forearm", "7")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "f9")
        assert "is named at once" in said(pilot)
        await enter(pilot, "31.39 N")  # 3.2 lb times g
        assert "It looks like this slip: not converted to kilograms." in said(pilot)
        plank = Opening(shelf.problems["body-plank-two-supports"], "7")
        app.push_screen(WorkScreen(plank, app.visit))
        await settle(pilot)
        await enter(pilot, "1570 N")  # 160 lb times g
        assert "It looks like this slip: not converted to kilograms." in said(pilot)
        assert "A habit to watch" in said(pilot)
        await press(pilot, "f9")
        assert "a hint names the likely slip" in said(pilot)


async def test_the_diagram_is_drawn_after_the_statement_was_scrolled(shelf):
    """Of a problem that was opened this moment; `test_layout` shows that of every problem."""
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for name in VARIED[::8]:
            app.push_screen(WorkScreen(Opening(shelf.problems[name], "7"), app.visit))
            await settle(pilot)
            await press(pilot, "pagedown", "f5")
            diagram = app.screen.query_one(Diagram)
            drawn = [diagram.render_line(row).text.strip() for row in range(diagram.size.height)]
            assert sum(map(bool, drawn)) >= 8, name
            app.pop_screen()
