"""A line cut into what is said to be equal and the words around it.

Words are set aside, so that `weight of arm 1.5 x 9.81 = 14.7 N at 0.682 x 25.2 = 17.2 cm` holds two
chains, each with the words before and behind it.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from itertools import pairwise

from leverstep.claims.labels import DIRECTIONS
from leverstep.claims.lexemes import ENGLISH, NOTHING_THERE, OPERATORS, Lexeme, lexemes_of, runs_of
from leverstep.course.symbols import SPELT
from leverstep.entry.grammar import read_line
from leverstep.entry.tree import Tree, Unreadable, names_in
from leverstep.entry.vocabulary import FUNCTIONS
from leverstep.statics.units import unit

MOST_CHAINS = 12
"""So many chains of a line are read: a line of working has three at most."""
_MOST_CUTS = 12
"""So many places are tried where one chain may end and another begin."""
_MOST_READINGS = 150
"""So often it is tried to read a part of a run; what takes more is no working."""
_MOST_LEFT_OUT = 3
"""So many lexemes are left out at the front of what can't be read with them."""
_WAYS = frozenset().union(*DIRECTIONS.values())
_WORDS = re.compile(r"[^\W\d_]+")
_NAMED = re.compile(r"(?<![\w.])([A-Za-z]\w?)\s*\(([A-Za-z][A-Za-z ,&-]+)\)\s*(?=[=*+/)-])")
_PUNCTUATION = frozenset(",;.:!?()'\"")
"""Signs that may stand behind a number in any text."""
_SHORT_REMARKS = ("up", "cw", "ccw", "+")


@dataclass(frozen=True, slots=True)
class Chain:
    """Sides that are said to be equal, with the words before and behind them.

    `names` are the symbols of its sides, by what stands for each in the trees. `leads` says that
    the chain begins with an equals sign, so that what it equals stands before; `times` that it
    begins with `*` or `/`, so that a factor does. `text` is what was read; `context` are the
    words of the line further in front, `of` those of the force whose symbol stands before, and
    `forces` its key.
    `is_aside` says that the line speaks beside the working, `is_torn` that a number at its end
    stands beside another one, or beside what may be a unit and was not read.
    """

    sides: tuple[Tree, ...]
    names: dict[str, str] = field(default_factory=dict)
    before: str = ""
    behind: str = ""
    leads: bool = False
    times: str = ""
    text: str = ""
    context: str = ""
    of: frozenset[str] = frozenset()
    forces: frozenset[str] = frozenset()
    is_aside: bool = False
    is_torn: bool = False

    def symbols_in(self, *sides: Tree) -> list[str]:
        """Return the symbols of some of its sides as they are written, from left to right."""
        return [self.names[name.symbol] for side in sides for name in names_in(side)]


def chains_of(text: str, known: Collection[str]) -> list[Chain]:
    """Return the chains of a line that was made plain.

    Args:
        text: the line.
        known: the symbols that the problem and the page have.
    """
    runs = runs_of(lexemes_of(_without_remarks(text, known), known), known)
    found: list[Chain] = []
    context = ""
    lost: list[str] = []  # words before what can't be read go with what comes next
    followed = [*runs[1:], ([], [])]
    for (before, run), (behind, further) in list(zip(runs, followed, strict=True))[:MOST_CHAINS]:
        if not run:
            break
        if _is_said_of(before, run, behind):
            lost += [*before, run[0].text]
            continue
        there = _RunReader([*lost, *(_without_way(before) if found else before)], behind).chains(
            run
        )
        if there and _is_torn_off(run[-1], behind, further):
            there = [*there[:-1], replace(there[-1], is_torn=True)]
        found += [replace(chain, context=context) for chain in there]
        lost = [] if there else [*lost, *before]
        context += " " + " ".join(before)
    return found[:MOST_CHAINS]


def _without_way(words: list[str]) -> list[str]:
    """Return words between two formulas, none where they only say which way the one before points:
    `101 N forwards, 638 - 79 = 559 N down`.
    """
    return [] if words[-1:] == [","] and all(word in _WAYS for word in words[:-1]) else words


def _is_said_of(before: list[str], run: list[Lexeme], behind: list[str]) -> bool:
    """Return whether a symbol alone belongs to the words around it: `lever arm of G: …`."""
    is_alone = len(run) == 1 and run[0].kind == "word"
    return is_alone and before[-1:] in (["of"], ["for"]) and behind[:1] in ([":"], [";"])


def words_of(text: str) -> str:
    """Return the words of a line, in small letters."""
    return " ".join(_WORDS.findall(text.lower()))


def _without_remarks(text: str, known: Collection[str]) -> str:
    """Return a line with brackets that hold only words opened: `42.2 N (shank+foot)`."""

    def opened(match: re.Match[str]) -> str:
        inside = match.group(1)
        words = _WORDS.findall(inside)
        is_short_remark = len(words) == 1 and words[0].lower() in _SHORT_REMARKS
        is_remark = is_short_remark or any(_is_remark(word, known) for word in words)
        return f" , {inside.replace('+', ' ')} , " if is_remark else match.group()

    told = [match.group(2) for match in _NAMED.finditer(text) if len(match.group(2)) > 2]
    if told:
        bare = _NAMED.sub(r"\1 ", text)
        text = f"{' '.join(told)} ; {bare}"
    text = re.sub(r"\[\s*([^\[\]0-9]*?)\s*\]", r" \1 ", text)
    return re.sub(r"\(([^()]*)\)", opened, text)


def _is_remark(word: str, known: Collection[str]) -> bool:
    is_sign = word in FUNCTIONS or word in SPELT.values()
    is_of_formula = is_sign or word in known or unit(word) is not None
    return len(word) > 2 and not is_of_formula


class _RunReader:
    """Reads a run of formula lexemes as a chain, or as several where it can't be one."""

    def __init__(self, before: list[str], behind: list[str]) -> None:
        self.before = " ".join(before)
        self.behind = " ".join(behind)
        self.readings = 0
        self._found: dict[tuple[Lexeme, ...], list[Chain]] = {}

    def chains(self, run: list[Lexeme]) -> list[Chain]:
        """Return the chains of a run; what was tried once is not tried again."""
        key = tuple(run)
        if key not in self._found:
            self._found[key] = self._chains(_trimmed(run))
        return self._found[key]

    def _chains(self, run: list[Lexeme]) -> list[Chain]:
        leads, times = False, ""
        while run and run[0].text in ("=", "*", "/", ":"):
            leads = leads or run[0].text == "="
            times = run[0].text if run[0].text in "*/" else times
            run = run[1:]
        if not any(lexeme.kind in ("number", "word") for lexeme in run):
            return []
        start = Chain((), before=self.before, behind=self.behind, leads=leads, times=times)
        chain = self._read(run, start)
        return [chain] if chain is not None else self._parts(run, start)

    def _parts(self, run: list[Lexeme], start: Chain) -> list[Chain]:
        """Return the chains of a run that is none: cut in two, or without its front."""
        for cut in _cuts(run):
            first = self._read(run[:cut], replace(start, behind=""))
            if first is not None and (others := self.chains(run[cut:])):
                is_torn = _may_tear(run[cut - 1], run[cut:])
                if is_torn and run[cut].kind == "number":
                    others = [replace(others[0], is_torn=True), *others[1:]]
                return [replace(first, is_torn=is_torn), *others]
        for left_out in range(1, min(len(run), _MOST_LEFT_OUT + 1)):
            chain = self._read(_trimmed(run[left_out:]), start)
            if chain is not None and len(chain.sides) > 1:
                return [chain]
        return []

    def _read(self, run: list[Lexeme], start: Chain) -> Chain | None:
        self.readings += 1
        return _read(run, start) if self.readings <= _MOST_READINGS else None


def _cuts(run: list[Lexeme]) -> list[int]:
    """Return where a chain may end and another begin: behind a number or unit, before a symbol."""
    places = [
        place
        for place, (before, after) in enumerate(pairwise(run), start=1)
        if after.kind != "sign" and before.text not in OPERATORS and before.text != "("
    ]
    return places[:_MOST_CUTS]


def _may_tear(last: Lexeme, rest: list[Lexeme]) -> bool:
    """Return whether what stands behind a number may have been a part of it, or its unit."""
    first, after = [*rest, NOTHING_THERE][:2]
    if last.kind == "number" or last.text == ")":
        return first.kind in ("number", "word") and after.text != "="
    return first.kind == "number" and len(rest) == 1


def _is_torn_off(last: Lexeme, behind: list[str], further: list[Lexeme]) -> bool:
    """Return whether what follows a chain may have been a part of the number at its end.

    That is a lone number without a unit; and behind a number without a unit a sign of no text, a
    unit, or an amount. A sign with nothing behind it is only a mark: `= 13.6 ✓`.

    Args:
        last: the last lexeme of the chain.
        behind: the words behind it.
        further: the formula behind these.
    """
    is_amount = bool(further) and all(map(_is_of_amount, further))
    are_signs = not any(word[0].isalnum() for word in behind)
    if last.kind != "number":
        return are_signs and is_amount and len(further) == 1
    if not behind:
        return False
    is_sign = not behind[0][0].isalnum() and behind[0] not in _PUNCTUATION
    is_unit = any(unit(word) is not None and word not in ENGLISH for word in behind[:2])
    is_unit = is_unit or (is_amount and (are_signs or further[0].kind == "word"))
    return is_unit or (is_sign and (len(behind) > 1 or bool(further)))


def _is_of_amount(lexeme: Lexeme) -> bool:
    """Return whether a lexeme stands in an amount with nothing said of it: `2`, `2 N`."""
    return lexeme.kind == "number" or unit(lexeme.text) is not None


def _trimmed(run: list[Lexeme]) -> list[Lexeme]:
    """Return a run without signs at its ends that can't stand there."""
    while run and run[-1].text in ("=", "*", "/", "+", "-", ":", "(", "^", "|"):
        run = run[:-1]
    while run and run[0].text in (")", "^", "+"):
        run = run[1:]
    surplus = sum((lexeme.text == "(") - (lexeme.text == ")") for lexeme in run)
    while run and surplus:
        if run[-1].text == ")":
            run, surplus = run[:-1], surplus + 1
        elif run[0].text == "(":
            run, surplus = run[1:], surplus - 1
        else:
            break
    return run


def _read(run: list[Lexeme], start: Chain) -> Chain | None:
    """Return a chain with the sides of a run; None where the grammar has no reading for it.

    Symbols are read under names that are no unit and no word of the grammar.
    """
    names: dict[str, str] = {}
    texts = []
    for place, lexeme in enumerate(run):
        lower = lexeme.text.lower()
        if lower in FUNCTIONS:
            texts.append(lower)
        elif lexeme.kind == "word" and not _is_unit_at(run, place, names):
            texts.append(names.setdefault(lexeme.text, f"q{len(names)}z"))
        else:
            texts.append(lexeme.text)
    text = " ".join(texts)
    try:
        sides = read_line(text, set(names.values()))
    except Unreadable:
        return None
    by_name = {name: symbol for symbol, name in names.items()}
    return replace(start, sides=sides, names=by_name, text=text)


def _is_unit_at(run: list[Lexeme], place: int, names: Collection[str]) -> bool:
    """Return whether a word of a run is a unit: of a number, or a part of one such as `N m`."""
    if unit(run[place].text) is None:
        return False
    before = run[place - 1] if place else NOTHING_THERE
    if before.kind == "number" or before.text in (")", "°"):
        return True
    if before.text in ("/", "*") and place > 1:
        before = run[place - 2]
    return before.kind == "word" and unit(before.text) is not None and before.text not in names
