"""What the letters of an equation may stand for that nothing says the meaning of."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.claims import weights
from leverstep.claims.memory import Memory
from leverstep.claims.subject import Subject

_MOST_MEANINGS = 4
_MOST_TRIES = 80
"""So many meanings of each letter are tried, and so many pairs of them."""


class LettersGuessed:
    """Guesses letters, the likeliest meaning first."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory
        self._likely: dict[str, list[str]] = {}
        self._sought_forces = [
            one.key
            for one in subject.with_line
            if one.step and one.step.kind.found and one.about == (one.key,)
        ]

    def guesses(self, names: list[str]) -> Iterator[dict[str, str]]:
        """Yield what some symbols may stand for: a key for each, none twice."""
        tries: list[dict[str, str]] = [{}]
        for name in names:
            keys = self._meanings(name)
            tries = [{**one, name: key} for one in tries for key in keys if key not in one.values()]
        yield from (
            one for one in tries[:_MOST_TRIES] if set(one.values()) <= set(self.subject.right)
        )

    def _meanings(self, name: str) -> list[str]:
        if name in self.memory.meant:
            return list(self.memory.meant[name])
        if name not in self._likely:
            self._likely[name] = self._likely_meanings(name)
        return self._likely[name]

    def _likely_meanings(self, name: str) -> list[str]:
        label, fit = self.subject.names.label_of_symbol(name), self.subject.names.fit
        ranked = sorted(
            ((fit(label, quantity), quantity) for quantity in self.subject.all.values()),
            key=lambda one: -one[0] - weights.SYMBOL_HAS_LINE * (one[1].step is not None),
        )
        likely = [quantity.key for score, quantity in ranked if score > weights.ENOUGH_TO_GUESS]
        return (likely or self._sought_by_letter(name))[:_MOST_MEANINGS]

    def _sought_by_letter(self, letter: str) -> list[str]:
        """Return the sought forces that a letter may stand for which stands for no sort: those that
        are called by a word or an index that begins with it, or else any.
        """
        words, begins = self.subject.names.words_of_force, letter.lower()
        called = [
            force
            for force in self._sought_forces
            if any(one.startswith(begins) for one in (force.partition("_")[2], *words[force]))
        ]
        return called or self._sought_forces
