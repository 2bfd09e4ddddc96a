"""The hints on the lines of a working, as they were given: which are shown, and what bears them."""

from __future__ import annotations

from leverstep.slips.catalogue import Catalogue
from leverstep.slips.ladder import LineHint, hints
from leverstep.working.rules import Rung
from leverstep.working.working import Working


class HintsGiven:
    """The hints of a working. Those on a line are about the entry that stands there.

    `given` holds the hints that each line took, in their order, those for entries that stand there
    no more among them; `charged` has how much each of them told, on the line that bears its cost.
    """

    def __init__(self, working: Working, catalogue: Catalogue) -> None:
        self._working = working
        self._catalogue = catalogue
        self.given: dict[str, list[LineHint]] = {}
        self.charged: dict[str, list[Rung]] = {}
        self._shown: dict[str, int] = {}

    @property
    def count(self) -> int:
        """Return how many hints were given."""
        return sum(map(len, self.given.values()))

    def there_are(self, key: str) -> tuple[LineHint, ...]:
        """Return all hints that there are for the entry that stands on a line, shown or not."""
        return hints(self._working, key, self._catalogue)

    def shown(self, key: str) -> tuple[LineHint, ...]:
        """Return the hints shown so far for the entry that stands on a line."""
        return self.there_are(key)[: self._shown.get(key, 0)]

    def following(self, key: str) -> LineHint | None:
        """Return the first hint of a line that is not shown; None where all are."""
        return next(iter(self.there_are(key)[self._shown.get(key, 0) :]), None)

    def give(self, key: str, hint: LineHint) -> None:
        """Count the next hint of a line as given, on the line that bears it, and show it."""
        self.charged.setdefault(self._working.leads_to(key).key, []).append(hint.rung)
        self.given.setdefault(key, []).append(hint)
        self._show(key, self._shown.get(key, 0) + 1)

    def begin_again(self, key: str) -> None:
        """Have the next hint of a line be about the entry that has just been judged there."""
        self._show(key, 0)

    def _show(self, key: str, shown: int) -> None:
        """Let so many hints of a line be shown, and with them the next that were given before."""
        given = self.given.get(key, [])
        there_are = self.there_are(key) if given else ()
        while shown < len(there_are) and there_are[shown] in given:
            shown += 1
        self._shown[key] = shown
