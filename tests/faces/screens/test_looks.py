"""Looks: which one is on, how well it can be read, and what goes to the terminal."""

from __future__ import annotations

import os
from collections.abc import Iterator
from colorsys import rgb_to_hls
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.every_screen import MAKE
from helpers.material import material
from helpers.pilots import press, settle
from helpers.terminals import COLOUR, Terminal, colours, through_a_problem
from leverstep.faces.screens import themes
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.looks import PlainText, first_look
from leverstep.faces.screens.themes import CONTRAST, DARK, LIGHT, SIXTEEN, THEMES, TOLD
from rich.cells import cell_len
from rich.color import ColorSystem
from rich.segment import Segment
from textual.color import Color
from textual.pilot import Pilot
from textual.strip import Strip
from textual.theme import Theme
from textual.widgets import Input

NO_TEXT = " │┃┆─━┌┐└┘├┤┬┴┷┼╌▔▁▂▃▄▅▆▇█▊▎▐▌▸·…"
"""Lines, bars and dots, which WCAG does not count as text."""


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("NO_COLOR", "COLORTERM", "LEVERSTEP_LOOK"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def luminance(colour: tuple[int, int, int]) -> float:
    """Return the relative luminance of a colour, as WCAG 2.2 defines it."""
    linear = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
        for c in (v / 255 for v in colour)
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    """Return the contrast ratio of two colours: success criterion 1.4.3 of WCAG 2.2."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_that_of_the_definition():
    assert contrast((255, 255, 255), (0, 0, 0)) == pytest.approx(21)
    assert contrast((118, 118, 118), (255, 255, 255)) == pytest.approx(4.54, abs=0.005)
    assert contrast((10, 20, 30), (10, 20, 30)) == 1


def hue(colour: str) -> float:
    """Return the hue of a colour in degrees."""
    return 360 * rgb_to_hls(*(channel / 255 for channel in Color.parse(colour).rgb))[0]


def test_the_colours_of_meaning_are_those_of_okabe_and_ito():
    """Sky blue, orange and yellow on dark; blue, vermilion and purple, darkened, on light."""
    meaning = [(look.success, look.warning, look.accent) for look in (DARK, LIGHT)]
    palette = [("#56B4E9", "#E69F00", "#F0E442"), ("#0072B2", "#D55E00", "#CC79A7")]
    assert meaning[0] == palette[0]
    for ours, theirs in zip(meaning[1], palette[1], strict=True):
        assert hue(ours) == pytest.approx(hue(theirs), abs=7)
        assert luminance(Color.parse(ours).rgb) < luminance(Color.parse(theirs).rgb)


def texts(pilot: Pilot[int]) -> Iterator[tuple[tuple[str, str], float]]:
    """Yield every text on the screen with its contrast, in terminals of all colours and of 256."""
    for strip in pilot.app.screen._compositor.render_strips():
        for segment in strip:
            if segment.text.strip(NO_TEXT):
                there = (segment.style.color, segment.style.bgcolor)
                for system in (ColorSystem.TRUECOLOR, ColorSystem.EIGHT_BIT):
                    ink, ground = (c.downgrade(system).get_truecolor() for c in there)
                    name = (segment.text.strip(), system.name)
                    yield name, contrast(tuple(ink), tuple(ground))


@pytest.mark.parametrize(
    ("look", "least"),
    [(DARK, 4.5), (LIGHT, 4.5), (CONTRAST, 7.0)],
    ids=lambda look: getattr(look, "name", ""),
)
async def test_every_text_stands_out(look, least, tmp_path, monkeypatch):
    """On every screen, in the help and the palette over it, and in the note that names the look."""
    monkeypatch.setenv("LEVERSTEP_LOOK", look.name)
    app, seen = LeverstepApp(material(SHELF)), {}

    def look_at(pilot: Pilot[int]) -> None:
        for text, ratio in texts(pilot):  # each as it stands out least
            seen[text] = min(ratio, seen.get(text, ratio))

    async with app.run_test(size=(120, 36), notifications=True) as pilot:
        await settle(pilot)
        app.notify("a note", title="Look")
        await settle(pilot)
        look_at(pilot)
        assert ("a note", "EIGHT_BIT") in seen
        for name, make in MAKE.items():
            app.push_screen(make(tmp_path))
            await settle(pilot)
            look_at(pilot)
            if name in ("work", "drill"):
                app.screen.query_one("#entry", Input).value = "9.99 N"
                for key in ("enter", "f2", "f3"):
                    await press(pilot, key)
                    look_at(pilot)
            for key, away in (("f1", "f1"), ("ctrl+p", "escape")):
                await press(pilot, key)
                await settle(pilot)
                look_at(pilot)
                await press(pilot, away)
    assert len(seen) > 400
    assert {text: ratio for text, ratio in seen.items() if ratio < least} == {}


def test_without_colours_no_colour_is_on_the_wire(tmp_path):
    """Reversed, bold and underlined are, so that what is lit and what is at hand can be seen."""
    with Terminal(home=tmp_path, NO_COLOR="1") as terminal:
        through_a_problem(terminal)
    sequences = list(colours(terminal.written))
    assert sequences
    assert not [numbers for numbers in sequences if COLOUR & set(numbers)]
    assert {1, 4, 7} < {number for numbers in sequences for number in numbers}


def test_sixteen_colours_that_are_asked_for_are_the_terminals_own(tmp_path):
    """Only the numbers of its own sixteen are on the wire, though there are more."""
    with Terminal(home=tmp_path, LEVERSTEP_LOOK="sixteen") as terminal:
        through_a_problem(terminal)
    used = {number for numbers in colours(terminal.written) for number in numbers}
    assert not used & {38, 48}
    assert used & COLOUR > {31, 35}


@pytest.mark.parametrize(
    ("room", "kept", "system", "look"),
    [
        ("", None, "truecolor", DARK),
        ("", None, "256", DARK),
        ("", None, "standard", SIXTEEN),
        ("", None, None, SIXTEEN),
        ("", b"light\n", "256", LIGHT),
        ("", b"light\n", "standard", LIGHT),
        ("contrast", b"light\n", "256", CONTRAST),
        (" sixteen ", b"light\n", "256", SIXTEEN),
        ("", b"none of ours\n", "256", DARK),
        ("", b"\xff\xfe\x00", "256", DARK),
        ("", b"x" * 10_000_000, "256", DARK),
        ("", b"", "256", DARK),
    ],
)
def test_the_first_look(room, kept, system, look, home, monkeypatch):
    """That of the room, else that kept, else what fits the terminal; a broken file is no matter."""
    monkeypatch.setenv("LEVERSTEP_LOOK", room)
    if kept is not None:
        home.mkdir()
        (home / "look").write_bytes(kept)
    assert first_look(system) == look.name


@pytest.mark.parametrize(("name", "meant"), [("drak", "dark"), ("\x1b[31m", ""), ("x" * 999, "")])
def test_a_look_that_there_is_not_is_named_in_one_sentence(name, meant, tmp_path):
    with Terminal(home=tmp_path, LEVERSTEP_LOOK=name) as terminal:
        assert terminal.ends() == 2
    told = terminal.written.decode()
    assert told.startswith("LEVERSTEP_LOOK: found ")
    assert told.endswith("; expected one of dark, light, contrast, sixteen\r\n")
    assert told.count("\n") == 1
    assert "\x1b" not in told
    assert len(told) < 200
    assert (f'did you mean "{meant}"' in told) is bool(meant)


async def test_only_the_sixteen_colours_are_on_any_screen(tmp_path, monkeypatch):
    monkeypatch.setenv("LEVERSTEP_LOOK", SIXTEEN.name)
    app, used = LeverstepApp(material(SHELF)), set()

    def look() -> None:
        strips = app.screen._compositor.render_strips()
        styles = [s.style for strip in strips for s in strip if s.style]
        used.update(c.type.name for style in styles for c in (style.color, style.bgcolor) if c)

    async with app.run_test(size=(120, 36), notifications=True) as pilot:
        await settle(pilot)
        app.notify("a note", title="Look")
        for make in MAKE.values():
            app.push_screen(make(tmp_path))
            await settle(pilot)
            look()
            for key, away in (("f1", "f1"), ("ctrl+p", "escape")):
                await press(pilot, key)
                await settle(pilot)
                look()
                await press(pilot, away)
    assert used == {"DEFAULT", "STANDARD"}


def test_every_look_is_in_the_row_of_looks():
    assert [one for one in vars(themes).values() if isinstance(one, Theme)] == [*THEMES]


async def test_a_look_is_named_and_kept():
    """F6 goes round; the next start has the last one."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        for theme in (*THEMES[1:], THEMES[0], THEMES[1]):
            await press(pilot, "f6")
            assert app.theme == theme.name
            rows = app.screen._compositor.render_strips()
            assert f"{theme.name}: {TOLD[theme.name]}"[:30] in "\n".join(r.text for r in rows)
            app.clear_notifications()
    assert LeverstepApp(material(SHELF)).theme != LIGHT.name
    again = LeverstepApp(material(SHELF))
    async with again.run_test(size=(80, 24)):
        assert again.theme == LIGHT.name


async def test_a_look_that_cannot_be_kept_is_put_on(home):
    """Where the user's data folder is a file, nothing is said of it."""
    home.write_text("")
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "f6")
        assert app.theme == LIGHT.name


async def test_without_colours_a_look_says_that_none_are_shown(monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        await press(pilot, "f6")
        shown = "".join(r.text for r in app.screen._compositor.render_strips())
        assert "NO_COLOR" in shown


@pytest.mark.parametrize("setting", ["", "1"])
async def test_the_environment_stays_as_it_was(setting, monkeypatch):
    """An empty NO_COLOR asks for nothing, and is there for the next program all the same."""
    monkeypatch.setenv("NO_COLOR", setting)
    around = dict(os.environ)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert app.no_color == bool(setting)
        assert app.screen.has_pseudo_classes({"nocolor"}) == bool(setting)
        segments = [s for strip in app.screen._compositor.render_strips() for s in strip]
        colours = {s.style.color.type.name for s in segments if s.style and s.style.color}
        assert ("TRUECOLOR" in colours) != bool(setting)
    assert dict(os.environ) == around


@pytest.mark.parametrize("setting", [{"NO_COLOR": "1"}, {"LEVERSTEP_LOOK": "sixteen"}], ids=str)
async def test_what_is_lit_is_seen_without_colours(setting, monkeypatch):
    """The lit row of a list is reversed, a field underlined, and what is marked in it reversed."""
    for name, value in setting.items():
        monkeypatch.setenv(name, value)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)

        def styles(text: str) -> set[tuple[bool, bool]]:
            strips = app.screen._compositor.render_strips()
            segments = [s for strip in strips for s in strip if text in s.text]
            return {(bool(s.style.reverse), bool(s.style.underline)) for s in segments}

        assert styles("A crate on a bar") == {(True, False)}
        assert styles("A sandbag on the toes") == {(False, False)}
        await press(pilot, "ctrl+p")
        await settle(pilot)
        assert styles("Open the problem") == {(True, False)}
        assert styles("Joint") == {(False, False)}
        await press(pilot, "escape", "tab")
        field = app.screen.query_one("#seed", Input)
        field.value = "abc"
        await settle(pilot)
        assert app.screen.focused is field
        assert styles("abc") == {(False, True)}
        field.action_select_all()
        await settle(pilot)
        assert {reverse for reverse, _ in styles("abc")} == {True}


def test_a_sign_that_is_not_shown_moves_nothing_else():
    """One that takes a place on the line is told by a question mark there."""
    strip = Strip([Segment("1\x1b]0;2\u202e\x9b"), Segment("3\xad\ue0004\u00a05\u3000")])
    shown = strip.apply_filter(PlainText(), Color.parse("black"))
    assert shown.text == "1]0;23??4 5  "
    assert cell_len(shown.text) == strip.cell_length
