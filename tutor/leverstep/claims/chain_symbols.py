"""Which symbol a chain is about, and what that stands for."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.labels import OF_COMPONENTS, label_of
from leverstep.claims.memory import Memory
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.worth import sides_of
from leverstep.entry.tree import Call, Name
from leverstep.statics.units import LENGTH

_WORD_AS_SYMBOL = re.compile(r"[A-Za-z][A-Za-z_0-9]*")
_END_OF_MEANING = re.compile(r"[,;]|\band\b")
"""What ends the words behind a letter that say what it stands for."""
_OF_SYMBOL = re.compile(r"\b(?:of|for)\s*$")


class ChainSymbols:
    """Finds that, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory

    def with_what_it_is_of(self, chain: Chain) -> tuple[str, Chain]:
        """Return the symbol that a chain is about, "" where words before it tell that, and the
        chain with the symbol first or among the words.
        """
        symbol, chain = _with_symbol_first(chain)
        self.memory.define_anew(symbol)
        if symbol and _OF_SYMBOL.search(chain.before):
            chain, symbol = self._said_of(symbol, chain), ""
        if not symbol:
            symbol, chain = _with_word_as_symbol(chain)
        if self._was_mistaken(symbol, chain):
            del self.memory.bound[symbol]
        if symbol and self._is_of_another_sort(symbol, chain):
            chain, symbol = self._said_of(symbol, chain), ""
        elif symbol:
            symbol, chain = self._with_force_in_symbol(symbol, chain)
        return symbol, chain

    def define(self, symbol: str, words: str) -> None:
        """Take `B = weight of the bucket` as what the symbol stands for."""
        label, fit = label_of(_END_OF_MEANING.split(words)[0]), self.subject.names.fit
        letter, is_named = label_of("", symbol), bool(self.subject.names.forces_named(label))
        score, _, key = max(
            (
                fit(label, quantity) + weights.SYMBOL_HAS_LINE * (quantity.step is not None),
                fit(letter, quantity),
                key,
            )
            for key, quantity in self.subject.all.items()
            if is_named or not quantity.is_component
        )
        key = self._whole_of(key)
        is_free = symbol not in self.subject.names.exact
        if words and is_free and score >= weights.ENOUGH_TO_DEFINE:
            self.memory.bound.setdefault(symbol, key)

    def _whole_of(self, key: str) -> str:
        """Return the force that a component is all of, any other quantity as it is."""
        part = self.subject.all[key]
        whole = self.subject.all.get(part.about[0]) if part.is_component else None
        sizes = (abs(self.subject.worth(part)), abs(self.subject.worth(whole)))
        return whole.key if whole is not None and math.isclose(*sizes, rel_tol=1e-6) else key

    def _is_of_another_sort(self, symbol: str, chain: Chain) -> bool:
        """Return whether what a symbol stands for can't have the unit that is written."""
        quantity = self.memory.quantity_of(symbol)
        if quantity is None:
            return False
        sides = sides_of(chain, self.memory.written, self.memory.dimensions)[1:]
        closed = [side for side in sides if not math.isnan(side.plain)]
        if not closed or closed[-1].dimension is None:
            return False
        return not self.subject.scales.may_be(closed[-1], quantity)

    def _was_mistaken(self, symbol: str, chain: Chain) -> bool:
        """Return whether a letter that an equation was taken to have for a length turns out to be
        of another sort; `W = 0.35 m` is the arm of a force by that letter.
        """
        bound = self.subject.all.get(self.memory.bound.get(symbol, ""))
        is_length = bound is not None and bound.dimension == LENGTH
        return len(symbol) == 1 and is_length and self._is_of_another_sort(symbol, chain)

    def _with_force_in_symbol(self, symbol: str, chain: Chain) -> tuple[str, Chain]:
        """Return `cuff F = …` as a line of `F_cuff`, where F stands for another force by now."""
        names, bound = self.subject.names, self.memory.quantity_of(symbol)
        words = label_of(chain.before).words & names.all_words
        named = names.forces_named(label_of(" ".join(words)))
        if bound is None or names.key_of(symbol) or len(bound.about) != 1 or len(named) != 1:
            return symbol, chain
        if named == set(bound.about):
            return symbol, chain
        word = next(iter(sorted(words - names.common)))
        both, (first, *_) = f"{symbol}_{word}", chain.sides
        place = first.symbol if isinstance(first, Name) else ""
        return both, replace(chain, names={**chain.names, place: both})

    def _said_of(self, symbol: str, chain: Chain) -> Chain:
        """Return `arm of W = …` as a chain with words before it, those of the force among them."""
        words = self.subject.names.words_of(self.memory.quantity_of(symbol))
        forces = self.memory.forces_by_symbol(symbol)
        return replace(chain, sides=chain.sides[1:], leads=True, of=words, forces=forces)


def _with_symbol_first(chain: Chain) -> tuple[str, Chain]:
    """Return the symbol that stands alone on one side, and the chain with it first."""
    first, *others = chain.sides
    if not others:
        return "", chain
    if isinstance(first, Call) and first.function == "abs" and isinstance(first.term, Name):
        first = first.term  # `|R| = …`
        chain = replace(chain, sides=(first, *others))
    if isinstance(first, Name):
        return chain.names[first.symbol], chain
    *others, last = chain.sides
    if isinstance(last, Name):
        turned = replace(chain, sides=(last, *others), times="", context="")
        return chain.names[last.symbol], turned
    return "", chain


def _with_word_as_symbol(chain: Chain) -> tuple[str, Chain]:
    """Return `arm = 2.68 cm` as a line of a symbol, which later lines may use; what tells which
    part of a force is meant is none.
    """
    word = chain.before.strip(" ;,")
    is_of_part = word.lower() in OF_COMPONENTS
    if not chain.leads or is_of_part or not _WORD_AS_SYMBOL.fullmatch(word):
        return "", chain
    names = {**chain.names, "word_": word}
    return word, replace(chain, sides=(Name("word_", 0), *chain.sides), names=names, before=word)
