"""All terms of the course: found by name, in a text, and by the line that they are about."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property

from leverstep.glossary.term import GlossaryTerm

SHORTEST_PART = 3
"""Letters of a part of a name that terms are found by."""


class Glossary:
    """The terms by name, in the order of their files."""

    def __init__(self, terms: Mapping[str, GlossaryTerm]) -> None:
        self.terms = dict(terms)

    @property
    def by_name(self) -> list[GlossaryTerm]:
        """Return all terms in the order of the alphabet."""
        return sorted(self.terms.values(), key=lambda term: term.name.casefold())

    def about(self, kind: str, unit_given: str, asks: str = "") -> list[GlossaryTerm]:
        """Return the terms that a line is about, the one that matters most first.

        Args:
            kind: the name of the kind of the line.
            unit_given: the unit of the given that it starts from, "" for none.
            asks: what it asks for, whose words may be terms too.
        """
        first = [term for term in self.terms.values() if term.is_about(kind, unit_given)]
        named = [self.terms[name] for name in self.named_in(asks)]
        return [*dict.fromkeys([*first, *named])]

    def named_in(self, text: str) -> list[str]:
        """Return the names of the terms that stand in a text, in their order there."""
        return [name for name, _ in self.found_in(text)]

    def found_in(self, text: str) -> Iterator[tuple[str, tuple[int, int]]]:
        """Yield the name of each term in a text, and from where to where its words stand there.

        Of words that are part of a longer name, the longer one counts.
        """
        for match in self._pattern.finditer(text) if self._spelt else ():
            name = self._spelt.get(match.group()) or self._spelt.get(_folded(match.group()))
            if name:
                yield name, match.span()

    def named(self, typed: str) -> GlossaryTerm | None:
        """Return the term of that name, None where there is none."""
        typed = " ".join(typed.split())
        name = self._spelt.get(typed) or self._spelt.get(_folded(typed))
        return self.terms[name] if name else None

    def like(self, typed: str) -> list[GlossaryTerm]:
        """Return the terms with a name that has a text in it."""
        part = typed.casefold().strip()
        if len(part) < SHORTEST_PART:
            return []
        return [term for term in self.by_name if any(part in n.casefold() for n in term.names)]

    @cached_property
    def _spelt(self) -> dict[str, str]:
        """Return the name of each term by each of its spellings: a sign counts as it is written.

        A name of its own counts before another name of another term.
        """
        spelt: dict[str, str] = {}
        for is_also in (False, True):
            for term in self.terms.values():
                for one in term.also if is_also else (term.name,):
                    for spelling in _spellings(one):
                        spelt.setdefault(spelling, term.name)
        return spelt

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        longest = sorted(self._spelt, key=len, reverse=True)
        return re.compile(rf"(?<!\w)(?:{_either(longest)})(?!\w)")


def _either(spellings: Iterable[str]) -> str:
    """Return a pattern for any of some spellings: words in any case, signs as they stand."""
    return "|".join(
        re.escape(one) if _is_sign(one) else f"(?i:{re.escape(one)})" for one in spellings
    )


def _is_sign(name: str) -> bool:
    """Return whether a name is a short sign, whose case matters: `g`, `lb`, `N·m`."""
    return len(name) <= 2 or (len(name) == 3 and name != name.lower())


def _spellings(name: str) -> tuple[str, ...]:
    """Return how a name is looked for: a sign as it is, a word folded, and for several too."""
    return (name,) if _is_sign(name) else (_folded(name), _folded(f"{name}s"))


def _folded(text: str) -> str:
    return text.casefold()
