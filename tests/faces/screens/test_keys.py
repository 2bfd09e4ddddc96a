"""Keys: every binding is sound, and the footer, the help and the palette tell the same of it."""

from __future__ import annotations

from collections import Counter

import pytest
from helpers.drills import SHELF
from helpers.every_screen import BOUND, MAKE, SCREENS
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import text_of
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.basis import BasisApp
from leverstep.faces.screens.bench_screen import BenchScreen
from leverstep.faces.screens.desk import LineField
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.footer import FooterKey
from leverstep.faces.screens.help import HelpScreen
from leverstep.faces.screens.keys import PALETTE, deeds
from leverstep.faces.screens.work import WorkScreen
from textual.actions import parse
from textual.binding import Binding
from textual.command import CommandPalette
from textual.dom import DOMNode
from textual.pilot import Pilot
from textual.widgets import OptionList, Static

READING = {"ReportScreen", "ExploreScreen", "ChoicePanel", "ThinkingScreen", "FreeBodyScreen"}
"""Screens without a field to type in, where a letter may be a key."""

HELD_BY = {LineField: BenchScreen}
"""The screen that a widget is on whose keys have that screen do something."""


def bindings(kind: type[DOMNode]) -> list[Binding]:
    """Return the bindings of a class and of those it is made from, without Textual's own."""
    own = [
        vars(k).get("BINDINGS", []) for k in kind.__mro__ if k.__module__.startswith("leverstep.")
    ]
    return [binding for part in own for binding in Binding.make_bindings(part)]


@pytest.mark.parametrize("kind", BOUND, ids=lambda kind: kind.__name__)
def test_every_binding_is_whole(kind):
    """Its action is there, and it has a name, an id, and words on what it does."""
    assert bindings(kind)
    keys = Counter(binding.id for binding in bindings(kind))
    for binding in bindings(kind):
        node, action, _ = parse(binding.action)
        does = {"": kind, "app": LeverstepApp, "screen": HELD_BY.get(kind)}[node]
        assert hasattr(does, f"action_{action}"), binding
        assert binding.id, binding
        assert binding.description, binding
        assert binding.tooltip, binding
        named = binding.key_display and keys[binding.id] == 1
        assert not named, "a key has one name on all screens"
        assert "[" not in binding.description + binding.tooltip, "the palette reads it as markup"
        assert len(binding.key) > 1 or kind.__name__ in READING, "it would be lost to a field"


@pytest.mark.parametrize("kind", SCREENS, ids=lambda kind: kind.__name__)
def test_no_key_is_bound_twice(kind):
    """Neither on one screen nor there and by the app; and no name or id stands for two deeds."""
    there = [*bindings(kind), *bindings(LeverstepApp)]
    keys = [binding.key for binding in there]
    assert len(keys) == len(set(keys)), sorted(keys)
    named = {binding.id: (binding.description, binding.action) for binding in there}
    assert len({name for name, _ in named.values()}) == len(named)


@pytest.mark.parametrize("key", ["f2", "f3", "f4", "f5", "f8", "f12"])
def test_a_key_of_a_working_does_the_same_in_practice_and_in_a_drill(key):
    """What moves between workings, and ends them, has keys that each of them tells."""
    does = {b.action for kind in (WorkScreen, DrillScreen) for b in bindings(kind) if b.key == key}
    assert len(does) == 1


def test_the_audit_finds_what_is_there():
    assert {kind.__name__ for kind in SCREENS} >= {"HomeScreen", "WorkScreen", "ReportScreen"}
    assert BasisApp in BOUND
    there = [b for kind in BOUND for b in bindings(kind)]
    ids = {b.id: (b.description, b.action) for b in there}
    assert all(ids[b.id] == (b.description, b.action) for b in there), "an id is of one deed"


def test_every_screen_is_opened_here(tmp_path):
    """Those that are made from another stand for it; the help is looked at over each."""
    opened = {type(make(tmp_path)) for make in MAKE.values()} | {HelpScreen}
    assert {kind for kind in SCREENS if not kind.__subclasses__()} == opened


async def palette_options(pilot: Pilot[int], text: str = "") -> list[str]:
    """Open the palette, type a text, and return what it offers."""
    await press(pilot, "ctrl+p", *text)
    assert isinstance(pilot.app.screen, CommandPalette)
    await settle(pilot)
    return [str(option.prompt) for option in pilot.app.screen.query_one(OptionList).options]


async def test_footer_help_and_palette_tell_the_same(tmp_path):
    """On every screen: all that can be done is in help and palette, by one name."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for name, make in MAKE.items():
            screen = make(tmp_path)
            app.push_screen(screen)
            await settle(pilot)
            await hold_what_is_told(pilot, name)
            assert app.screen is screen
            app.pop_screen()


async def hold_what_is_told(pilot: Pilot[int], name: str) -> None:
    """Hold the help and the palette of a screen to what can be done there."""
    app, screen = pilot.app, pilot.app.screen
    there = deeds(screen)
    assert {"Help", "Find", "Look", "Quit"} < {deed.name for deed in there}, name
    for key in screen.query(FooterKey):
        assert key.deed in there, name
        assert str(key.content) == f"{key.deed.keys[0]} {key.deed.name}", name
    await press(pilot, "f1")
    assert isinstance(app.screen, HelpScreen), name
    shown = " ".join(str(app.screen.query(Static).first().content).split())
    for deed in there:
        assert f"{', '.join(deed.keys)} {deed.name} {deed.told}" in shown, name
    told = app.screen.query(Static).first()
    assert max(map(len, str(told.content).split("\n"))) <= told.size.width, f"{name}: a line wraps"
    await press(pilot, "f1")
    assert app.screen is screen, name
    options = await palette_options(pilot)
    offered = [deed for deed in there if deed.ident != PALETTE]
    assert [tuple(option.split("\n")) for option in options] == [
        (deed.name, f"{deed.told} ({' or '.join(deed.keys)})") for deed in offered
    ], name
    await press(pilot, "escape")


@pytest.mark.parametrize("colours", ["", "1"], ids=["colours", "no-colours"])
async def test_the_palette_does_what_is_chosen(colours, monkeypatch):
    """By its name, or by words that tell what it does."""
    if colours:
        monkeypatch.setenv("NO_COLOR", colours)
    app = LeverstepApp(material(SHELF), Opening(SHELF.problems["elbow-full-pail"], "a1"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert (await palette_options(pilot, "hin"))[0].startswith("Hint\n")
        await press(pilot, "enter")
        assert "Hint 1" in text_of(app.screen, "#said")
        (option,) = await palette_options(pilot, "next hint")
        assert option == "Hint\nShow the next hint for this line (F2)"
        await press(pilot, "escape")
        assert not await palette_options(pilot, "xyzzy")
        await press(pilot, "f1", "ctrl+p", "escape")
        assert isinstance(app.screen, WorkScreen)


async def test_the_footer_has_what_fits():
    """More where there is more room; a click does what the key does."""
    app = LeverstepApp(material(SHELF), Opening(SHELF.problems["elbow-full-pail"], "a1"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        names = [key.deed.name for key in app.screen.query(FooterKey)]
        assert {"Hint", "Home", "Help", "Quit"} < set(names)
        await pilot.resize_terminal(140, 36)
        await settle(pilot)
        more = [key.deed.name for key in app.screen.query(FooterKey)]
        assert set(names) - {"Diagram"} < set(more)
        assert "Find" in more
        hint = next(key for key in app.screen.query(FooterKey) if key.deed.name == "Hint")
        await pilot.click(hint)
        await settle(pilot)
        assert "Hint 1" in text_of(app.screen, "#said")


async def test_the_help_tells_only_what_applies(tmp_path):
    """How to write a line is told where lines are written, how to choose where one chooses."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        told = {}
        for name in ("home", "work", "drill", "away"):
            app.push_screen(MAKE[name](tmp_path))
            await settle(pilot)
            await press(pilot, "f1")
            told[name] = str(app.screen.query(Static).first().content)
            await press(pilot, "escape")
    assert {n for n, text in told.items() if "How to write a line" in text} == {"work", "drill"}
    assert {n for n, text in told.items() if "How far you are led" in text} == {"home"}
    assert {n for n, text in told.items() if "The clock" in text} == {"drill"}
    assert {n for n, text in told.items() if "  To hand in, press F10." in text} == {"drill"}
    assert all("Where you decide" not in text for text in told.values())
