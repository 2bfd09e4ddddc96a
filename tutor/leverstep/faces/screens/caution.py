"""The caution on a screen: whole, or in short on the rule above a panel."""

from __future__ import annotations

from textual.containers import Vertical
from textual.widgets import Static

from leverstep.working.cautions import CAUTION, CAUTION_IN_SHORT


class Caution(Static):
    """The caution, whole unless it is given in short."""

    def __init__(self, told: str = CAUTION) -> None:
        super().__init__(told, id="caution", markup=False)


class Cautioned(Vertical):
    """A panel below a rule that bears the caution in short, and so takes no line for it."""

    def __init__(self, ident: str | None = None) -> None:
        super().__init__(id=ident)
        self.border_title = f" {CAUTION_IN_SHORT} "
