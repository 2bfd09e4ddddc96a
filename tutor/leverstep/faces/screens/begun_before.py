"""What is asked where the very question is begun already: go on with it, or begin anew."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from leverstep.dialogue.kept_told import ANEW_KEEPS
from leverstep.faces.screens.styles import styles


class BegunBeforeScreen(ModalScreen[bool]):
    """Asks whether to go on; closes with that, or with nothing where neither is wanted."""

    CSS = styles("aside")
    SCOPED_CSS = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "enter", "answer(True)", "Go on", id="begun.on",
            tooltip="Go on with what you began",
        ),
        Binding(
            "f7", "answer(False)", "Begin anew", id="begun.anew",
            tooltip="Begin with the first line again; what you began stays kept",
        ),
        Binding(
            "escape", "dismiss(None)", "Back", id="begun.back",
            tooltip="Open neither, and go back to the problems",
        ),
    ]  # fmt: skip

    def __init__(self, told: str) -> None:
        """Ask; `told` says what was begun."""
        super().__init__()
        self._told = told

    def compose(self) -> ComposeResult:
        """Lay out the question and its keys."""
        with Vertical(id="aside"):
            yield Static(f"{self._told}\n", markup=False)
            yield Static(
                f"Enter  go on with it\nF7     begin anew\nEsc    go back\n\n{ANEW_KEEPS}",
                markup=False,
            )

    def action_answer(self, answer: bool) -> None:
        """Close with an answer."""
        self.dismiss(answer)
