"""What is asked beside the lines of a practice: each can be switched on and off."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from leverstep.faces.screens.styles import styles
from leverstep.working.rules import Thinking

_TOLD = {
    Thinking.PREDICT: "before the first line, what you expect",
    Thinking.SENSE: "after the last line, whether the result makes sense",
    Thinking.SURE: "with each line, how sure you are",
}
"""What each asks, in the order of the digits."""


class ThinkingScreen(ModalScreen[None]):
    """Shows what is asked beside the lines; a digit switches one on or off."""

    CSS = styles("aside")
    SCOPED_CSS = False
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(
                str(number), f"switch('{which}')", f"Switch {number}", id=f"thinking.{which}",
                tooltip=f"Be asked {told}, or not",
            )
            for number, (which, told) in enumerate(_TOLD.items(), 1)
        ),
        Binding("escape", "dismiss(None)", "Back", id="thinking.back", tooltip="Go back"),
    ]  # fmt: skip

    def __init__(
        self,
        chosen: frozenset[Thinking],
        change: Callable[[Thinking], frozenset[Thinking]],
        otherwise_here: Mapping[Thinking, str],
    ) -> None:
        """Show what is asked.

        Args:
            chosen: what is switched on.
            change: what switches one on or off, and returns what is on then.
            otherwise_here: what is not asked at this working even so, with how it is said there.
        """
        super().__init__()
        self._chosen = chosen
        self._otherwise_here = otherwise_here
        self._change = change

    def compose(self) -> ComposeResult:
        """Lay out what can be asked, and the keys."""
        with Vertical(id="aside"):
            yield Static("Questions that make you think, beside the lines:\n", markup=False)
            yield Static(self._rows, id="thinking", markup=False)
            yield Static("\nA digit switches one on or off. Esc  go back", markup=False)

    @property
    def _rows(self) -> str:
        rows = []
        for number, (which, told) in enumerate(_TOLD.items(), 1):
            where = f"; {self._otherwise_here[which]}" if which in self._otherwise_here else ""
            rows.append(f"{number}  {'on ' if which in self._chosen else 'off'}  {told}{where}")
        return "\n".join(rows)

    def action_switch(self, which: str) -> None:
        """Switch one on or off."""
        self._chosen = self._change(Thinking(which))
        self.query_one("#thinking", Static).update(self._rows)
