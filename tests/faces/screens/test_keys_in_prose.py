"""No sentence names a key that is not there, or does something else: on screens and in guides."""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from helpers.every_screen import BOUND, SCREENS
from helpers.packages import ROOT
from helpers.source import PACKAGE
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.bench_screen import BenchScreen
from leverstep.faces.screens.desk import LineField
from leverstep.faces.screens.door import DoorScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.keys import bindings_of, key_name
from leverstep.faces.screens.work import WorkScreen
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.dom import DOMNode
from textual.screen import Screen
from textual.widgets import Input, OptionList, TextArea

FACE = PACKAGE / "faces" / "screens"
KEY = re.compile(
    r"(?<![\w`+-])(?:F1[0-2]|F[1-9]|(?:Ctrl|Shift|Alt)\+(?:[A-Z]\b|Tab)|Esc|PgUp|PgDn|Del|Backspace"
    r"|Tab|[↑↓←→])(?![\w`])"
)
"""A key as it is called; Enter, Home and End are words too."""

SEGMENT = re.compile(rf"[.;:·](?=\s|$)|\n(?=\s|$|{KEY.pattern})|   +")
"""Where one thing that is told ends; in a row of keys each stands apart."""

OF_WIDGETS = {
    key_name(key)
    for kind in (Input, OptionList, TextArea, VerticalScroll, Screen)
    for binding in Binding.make_bindings(kind.BINDINGS)
    for key in binding.key.split(",")
}
"""Keys that fields, lists and what is scrolled have of their own, everywhere the same."""

DONE_BY_WIDGETS = {
    "scroll choose another": ("↑", "↓"),
    "change": ("←", "→"),
    "moves goes click": ("Tab",),
    "takes": ("Backspace",),
}
"""What such keys may be told to do."""

ELSEWHERE = {
    "tour_screen": [WorkScreen], "keeping": [HomeScreen], "handed": [DoorScreen],
}  # fmt: skip
"""The screens of which texts tell that stand on another one."""

SLIGHT = {"line", "this", "that", "what", "with", "from", "here", "next", "then", "they", "pres"}
"""How words begin that tell no deed from another."""

IS_SIGN = {"pane.py"}
"""Modules in which an arrow is the sign of a way to scroll."""


@dataclass(frozen=True)
class Named:
    """A key that is named, with what is told there."""

    key: str
    told: str


def named_in(text: str) -> Iterator[Named]:
    """Yield the keys that a text names, each with the part of it that tells what it does."""
    for part in SEGMENT.split(text):
        for found in KEY.finditer(part):
            yield Named(found[0], " ".join(part.split()))


def prose_of(path: Path) -> Iterator[str]:
    """Yield the texts of a module: all but documentation, and what makes bindings."""
    tree = ast.parse(path.read_text("utf-8"))
    passed = set[ast.AST]()
    for node in ast.walk(tree):
        is_binding = isinstance(node, ast.Call) and ast.unparse(node.func) == "Binding"
        is_documentation = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        if is_binding or is_documentation or node in passed:
            passed |= {node, *ast.walk(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and node not in passed:
            parts = [one.value if isinstance(one, ast.Constant) else " " for one in node.values]
            passed |= {*ast.walk(node)}
            yield "".join(parts)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in passed:
            yield node.value


@cache
def beside(module: str) -> frozenset[str]:
    """Return the modules of the screens that a module loads, itself among them."""
    found, waiting = {module}, [module]
    while waiting:
        text = Path(sys.modules[waiting.pop()].__file__ or "").read_text("utf-8")
        for name in re.findall(r"from (leverstep\.faces\.screens\.\w+) import", text):
            if name not in found:
                found.add(name)
                waiting.append(name)
    return frozenset(found)


def shown_on(module: str) -> list[type[DOMNode]]:
    """Return the screens on which a text of a module may stand."""
    return [
        kind
        for kind in SCREENS
        if any(module in beside(base.__module__) for base in kind.__mro__ if base in SCREENS)
    ]


def there_are(kinds: list[type[DOMNode]]) -> dict[str, list[Binding]]:
    """Return the tutor's own bindings of some screens, and of the app, by their keys."""
    found: dict[str, list[Binding]] = {}
    in_a_field = [LineField] if any(issubclass(kind, BenchScreen) for kind in kinds) else []
    for kind in (*kinds, *in_a_field, LeverstepApp):
        for binding in bindings_of(kind):
            found.setdefault(binding.key_display or key_name(binding.key), []).append(binding)
            found.setdefault(key_name(binding.key), []).append(binding)
    return found


def stems(text: str) -> set[str]:
    """Return how the words of a text begin, so that `hints` is `hint`."""
    return {word[:4].lower() for word in re.findall(r"[A-Za-z]{4,}", text)} - SLIGHT


def is_told_rightly(one: Named, there: dict[str, list[Binding]]) -> bool:
    """Return whether a key is there, and does what is told: a word of it stands at its binding."""
    words = stems(KEY.sub(" ", one.told))
    own = there.get(one.key, [])
    told = [stems(f"{binding.description} {binding.tooltip}") for binding in own]
    told += [stems(does) for does, keys in DONE_BY_WIDGETS.items() if one.key in keys]
    if not words:
        return bool(own) or one.key in OF_WIDGETS
    return any(words & does for does in told)


MODULES = sorted(FACE.glob("*.py"), key=lambda path: path.name)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_key_that_a_screen_names_is_there_and_does_that(path: Path) -> None:
    shown = shown_on(f"leverstep.faces.screens.{path.stem}")
    there = there_are([*shown, *ELSEWHERE.get(path.stem, [])])
    found = [one for text in prose_of(path) for one in named_in(text)]
    if path.name not in IS_SIGN:
        assert [one for one in found if not is_told_rightly(one, there)] == []


OTHERS = [
    path
    for path in sorted(PACKAGE.rglob("*.py"))
    if path.parent != FACE and not {"documents", "diagram"} & set(path.parts)
]


def test_what_is_told_beside_the_screens_names_no_key_but_those_of_a_drill() -> None:
    """Plain lines have words in place of keys, and what is told for both faces has neither."""
    arrows = {"↑", "↓", "←", "→"}  # which a student may type
    found = {
        (path.relative_to(PACKAGE).as_posix(), one.key)
        for path in OTHERS
        for text in prose_of(path)
        for one in named_in(text)
        if one.key not in arrows
    }
    assert found == {
        ("dialogue/preview.py", "F10"),
        ("dialogue/preview.py", "Esc"),
        ("faces/commands/completion_cli.py", "Tab"),
    }
    assert {"F10", "Esc"} <= there_are(
        [kind for kind in SCREENS if "Drill" in kind.__name__]
    ).keys()


GUIDES = [ROOT / "README.md", *sorted(ROOT.glob("problems/*.md")), *sorted(ROOT.glob("hints/*"))]


@pytest.mark.parametrize("path", GUIDES, ids=lambda path: path.name)
def test_a_key_that_a_guide_names_is_there_and_does_that(path: Path) -> None:
    there = there_are(SCREENS)
    text = re.sub(r"(?<!\n)\n(?!\n)", " ", path.read_text("utf-8"))
    assert [one for one in named_in(text) if not is_told_rightly(one, there)] == []


def test_the_search_finds_keys_and_takes_none_for_another() -> None:
    told = "F2 gives a hint · ↑ ↓ other lines; Ctrl+S writes it, and F_m is F12.5. Shift+Tab\nF1"
    keys = [one.key for one in named_in(told)]
    assert keys == ["F2", "↑", "↓", "Ctrl+S", "F12", "Shift+Tab", "F1"]
    assert len(BOUND) > 20
    texts = [text for path in MODULES for text in prose_of(path)]
    assert len([one for text in texts for one in named_in(text)]) > 60


@pytest.mark.parametrize(
    ("told", "right"),
    [
        ("F2 gives a hint", True),
        ("F2 skips the line", False),
        ("F3 skips the line", True),
        ("Ctrl+B takes it back", False),
        ("Backspace takes one back", True),
        ("F4 line to be done", True),
        ("↑ ↓ scroll", True),
        ("Ctrl+K explains the words", False),
        ("press F2", True),
        ("press F11", False),
    ],
)
def test_a_key_with_another_deed_or_none_is_found(told: str, right: bool) -> None:
    there = there_are([WorkScreen])
    assert {key for keys in DONE_BY_WIDGETS.values() for key in keys} <= OF_WIDGETS
    assert {is_told_rightly(one, there) for one in named_in(told)} == {right}
