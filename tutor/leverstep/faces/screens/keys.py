"""What can be done on a screen, made from its bindings: for the footer, the help and the palette.

A binding with an id is one of the tutor's own; those of Textual's widgets have none. So a new
screen needs nothing but `BINDINGS` to be in all three.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from textual.actions import parse
from textual.binding import Binding
from textual.dom import DOMNode
from textual.screen import Screen

HELP, PALETTE = "app.help", "app.palette"
"""The ids of the two bindings that every screen has before all others."""

_NAMES = {
    "up": "↑", "down": "↓", "left": "←", "right": "→", "pageup": "PgUp", "pagedown": "PgDn",
    "escape": "Esc", "space": "Space", "delete": "Del",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing that can be done now.

    `keys` are those that do it, the first of them that to be shown; `told` says what it does.
    `action` is done on `node`. `general` is what every screen has, `shown` what comes first in the
    footer; `listed` is false for one of a row that the screen itself names, a system binding, of
    which the footer would have room for some alone.
    """

    ident: str
    keys: tuple[str, ...]
    name: str
    told: str
    action: str
    node: DOMNode
    general: bool
    shown: bool
    listed: bool


def key_name(key: str) -> str:
    """Return a key as it stands on the keyboard: `PgDn`, `Ctrl+O`, `F2`."""
    parts = key.split("+")
    return "+".join(_NAMES.get(part, part.capitalize()) for part in parts)


def deeds(screen: Screen[Any]) -> list[Deed]:
    """Return what can be done on a screen, in the order of its bindings; the app's come last.

    A name that changes with what is shown is given by the screen's `names_now`, by id.
    """
    found: dict[str, Deed] = {}
    named = getattr(screen, "names_now", {})
    for node, binding in _open_bindings(screen):
        ident, name = binding.id or "", binding.key_display or key_name(binding.key)
        keys = found[ident].keys if ident in found else ()
        found[ident] = Deed(
            ident, keys if name in keys else (*keys, name), named.get(ident, binding.description),
            binding.tooltip, binding.action, node, node is screen.app, binding.show,
            not binding.system,
        )  # fmt: skip
    return list(found.values())


@cache
def bindings_of(kind: type[DOMNode]) -> tuple[Binding, ...]:
    """Return the tutor's own bindings of a class, one for each key; a later class goes first.

    They are as the class declares them, and asked for after each key that is pressed.
    """
    declared = [vars(base).get("BINDINGS", ()) for base in reversed(kind.__mro__)]
    there = {b.key: b for part in declared for b in Binding.make_bindings(part) if b.id}
    return tuple(there.values())


def _open_bindings(screen: Screen[Any]) -> Iterator[tuple[DOMNode, Binding]]:
    """Yield the bindings that work now, each with what its action belongs to.

    Textual's own list of them leaves out what a widget may scroll with, though it only does where
    there is something to scroll, and the app's over a modal screen, though all of them have
    priority. A key does what it does nearest to the focus.
    """
    focused, taken = screen.focused, set[str]()
    here: list[DOMNode] = [screen] if focused is None else list(focused.ancestors_with_self)
    nodes = [node for node in here if node is not screen.app]
    for node in (*nodes, screen.app):
        for binding in bindings_of(type(node)):
            whose, action, parameters = parse(binding.action)
            owner = {"": node, "app": screen.app, "screen": screen}[whose]
            if binding.key not in taken and owner.check_action(action, parameters):
                taken.add(binding.key)
                yield node, binding
