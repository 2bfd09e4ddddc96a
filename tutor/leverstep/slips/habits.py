"""Habits: slips that a student makes again and again over a sitting."""

from __future__ import annotations

from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import explained
from leverstep.working.verdict import Verdict

_TIMES = {2: "twice", 3: "three times"}


class Habits:
    """The slips of a sitting, over one problem or several, by their general reason.

    Slips that share a reason are one habit, seen on different lines.
    """

    def __init__(self) -> None:
        self._places: dict[str, set[str]] = {}
        self._told: set[str] = set()

    def notice(self, question: str, verdict: Verdict, catalogue: Catalogue) -> str:
        """Take note of a verdict; return what to say of a habit that shows in it, "" for none.

        A habit is a slip found for sure on two lines; trying one line again is none. It is told
        once.

        Args:
            question: which question the line is of; any name that tells questions apart.
            verdict: what was said of an entry.
            catalogue: whose slips it names.
        """
        found = explained(verdict, catalogue).explanations
        if not found or not found[0].sure:
            return ""
        for slip in (catalogue.slips[found.slip] for found in found[0].findings):
            places = self._places.setdefault(slip.reason, set())
            places.add(f"{question} {verdict.step}")
            if len(places) > 1 and slip.reason not in self._told:
                self._told.add(slip.reason)
                times = _TIMES.get(len(places), f"{len(places)} times")
                return f"A habit to watch: {slip.name}, {times} so far. {slip.reason}"
        return ""
