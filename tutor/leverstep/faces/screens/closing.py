"""The panel at the end of a working: how it went, and where to go from here."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from leverstep.dialogue.ending import ending
from leverstep.dialogue.lookback import LookBack
from leverstep.dialogue.replies import DialogueAnswer
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.screens.caution import Caution

_WAY_BACK = "F4 goes to the first line that is still open."


class Closing(Vertical):
    """Stands in the place of the desk when no line is left to do; `onward` names the keys."""

    def __init__(self, onward: str) -> None:
        super().__init__()
        self._onward = onward

    def compose(self) -> ComposeResult:
        """Lay out the headline, the account, and the keys."""
        yield Static(id="headline", markup=False)
        yield Static(id="account", markup=False)
        yield Static(id="remember", markup=False)
        yield Static(id="meant", markup=False)
        yield Caution()
        yield Static(self._onward, id="onward", markup=False)

    def tell(
        self,
        dialogue: WorkingDialogue,
        warnings: Iterable[Content],
        latest: DialogueAnswer | None,
    ) -> None:
        """Tell how the working went.

        Args:
            dialogue: the working.
            warnings: what must be said whatever else is.
            latest: what came of the last thing done, None where that is among the warnings.
        """
        end = ending(dialogue.bench)
        told = [end.account, _WAY_BACK if end.is_open else ""]
        if latest is not None:
            wrong = f"{latest.name}: {latest.told}" if latest.mark.is_wrong else ""
            chosen = latest.told if latest.is_chosen else ""
            told = [wrong or chosen, end.account, latest.changed, latest.moved, *told[1:]]
        self.set_class(dialogue.working.complete, "-ok")
        self.query_one("#headline", Static).update(end.headline)
        parts = [*warnings, *(Content(part) for part in told if part)]
        self.query_one("#account", Static).update(Content("\n").join(parts))

    def look_back(self, back: LookBack, onward: str) -> None:
        """Tell in short, where there is room, what to remember and what the result means.

        `onward` names the keys that there are now.
        """
        self.query_one("#onward", Static).update(onward)
        first = [f"Remember: {slip.remember}" for slip in back.slips[:1]]
        self._fill("#remember", first if back.meaning else ())
        self._fill("#meant", back.meaning[:1])

    def _fill(self, name: str, told: Iterable[str]) -> None:
        """Show what is told, or take no line for nothing."""
        text = " ".join(told)
        self.query_one(name, Static).update(text)
        self.query_one(name).set_class(not text, "-nothing")
