"""A line cut into what is said to be equal and the words around it.

Words are set aside, so that `weight of arm 1.5 x 9.81 = 14.7 N at 0.682 x 25.2 = 17.2 cm` holds two
chains, each with the words before and behind it.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from leverstep.entry.grammar import FUNCTIONS, read_line
from leverstep.entry.tree import Tree, Unreadable
from leverstep.statics.units import unit

_PIECE = re.compile(
    r"""(?P<space>\s+)
    |(?P<number>(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+(?![0-9_A-Za-z]))?)
    |(?P<word>[^\W\d_](?:[^\W_]|_(?=\w))*'?)
    |(?P<sign>\*\*|[-+*/^()=|°":;,.!?\[\]%@&<>'#]|.)
    """,
    re.VERBOSE,
)
_OPERATORS = frozenset(["*", "/", "^", "+", "-", "=", "**"])
_ENGLISH = frozenset(
    ["a", "i", "at", "is", "in", "of", "to", "so", "it", "on", "by", "or", "as", "no", "be", "we", "he", "an", "if", "do", "go", "my", "us", "the", "and", "for", "per", "from", "due"]
)
_NEVER = frozenset(["up", "down", "left", "right", "cw", "ccw", "sum", "net", "let", "so", "is", "mg", "arm", "leg"])
_MOST_CHAINS = 12


class Piece(NamedTuple):
    """A piece of a line: what it is, as written."""

    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class Chain:
    """Sides that are said to be equal, with the words before and behind them.

    `names` are the symbols of its sides, by what stands for each in the trees; `leads` says that
    the chain begins with an equals sign, so that what it equals stands before.
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


def chains_of(text: str, known: Collection[str]) -> list[Chain]:
    """Return the chains of a line that was made plain.

    Args:
        text: the line.
        known: the symbols that the problem and the page have.
    """
    pieces = _pieces(_without_remarks(text, known), known)
    runs: list[tuple[list[str], list[Piece]]] = []
    words: list[str] = []
    run: list[Piece] = []
    for place, piece in enumerate(pieces):
        if _is_formula(pieces, place, known, run):
            run.append(piece)
            continue
        if run:
            runs.append((words, run))
            words, run = [], []
        words.append(piece.text)
    if run:
        runs.append((words, run))
        words = []
    found: list[Chain] = []
    context = ""
    lost: list[str] = []
    for number, (before, run) in enumerate(runs[:_MOST_CHAINS]):
        behind = runs[number + 1][0] if number + 1 < len(runs) else words
        there = _chains([*lost, *before], run, behind)
        found += [replace(chain, context=context) for chain in there]
        lost = [] if there else [*lost, *before]
        context += " " + " ".join(before)
    return found


def words_of(text: str) -> str:
    """Return the words of a line, in small letters."""
    return " ".join(re.findall(r"[^\W\d_]+", text.lower()))


def _without_remarks(text: str, known: Collection[str]) -> str:
    """Return a line with brackets that hold only words opened: `42.2 N (shank+foot)`."""

    def opened(match: re.Match[str]) -> str:
        inside = match.group(1)
        words = re.findall(r"[^\W\d_]+", inside)
        long = [
            w
            for w in words
            if len(w) > 2 and w not in FUNCTIONS and w not in known and unit(w) is None
        ]
        one = len(words) == 1 and words[0].lower() in ("up", "cw", "ccw", "+")
        return f" , {inside.replace('+', ' ')} , " if long or one else match.group()

    named = re.compile(r"(?<![\w.])([A-Za-z]\w?)\s*\(([A-Za-z][A-Za-z ,&-]+)\)\s*(?=[=*+/)-])")
    told = [match.group(2) for match in named.finditer(text) if len(match.group(2)) > 2]
    if told:
        text = f"{' '.join(told)} ; {named.sub(chr(92) + '1 ', text)}"
    text = re.sub(r"\[\s*([^\[\]0-9]*?)\s*\]", lambda m: f" {m.group(1)} ", text)
    return re.sub(r"\(([^()]*)\)", opened, text)


def _pieces(text: str, known: Collection[str]) -> list[Piece]:
    found = []
    for match in _PIECE.finditer(text):
        kind = match.lastgroup or ""
        if kind != "space":
            found.append(Piece(kind, match.group()))
    return [piece for part in found for piece in _parted(part, known)]


def _parted(piece: Piece, known: Collection[str]) -> list[Piece]:
    """Return a word such as `Nm` or `sin26` as its pieces."""
    if piece.kind != "word" or piece.text in known:
        return [piece]
    text = piece.text
    if match := re.fullmatch(r"(a?(?:sin|cos|tan)|sqrt)([0-9]+)", text):
        return [Piece("word", match.group(1)), Piece("number", match.group(2))]
    for force in ("kN", "N", "lbf", "lb", "kg"):
        if text.startswith(force) and text.removeprefix(force) in ("m", "cm", "mm"):
            return [Piece("word", force), Piece("word", text.removeprefix(force))]
    return [piece]


def _is_formula(pieces: list[Piece], place: int, known: Collection[str], run: list[Piece]) -> bool:
    """Return whether a piece belongs to a formula, not to the words around it."""
    piece = pieces[place]
    if piece.kind == "number":
        return True
    before = pieces[place - 1] if place else Piece("", "")
    after = pieces[place + 1] if place + 1 < len(pieces) else Piece("", "")
    if piece.kind == "sign":
        if piece.text == ":":
            return (
                bool(run)
                and run[-1].kind in ("number", "word")
                and after.kind in ("number", "word")
            )
        if piece.text in "()|":
            return True
        return piece.text in _OPERATORS or piece.text in '°"'
    return (
        _is_name(piece.text, before, after, known)
        or _is_unit_here(piece.text, before, after, run)
        or (
            piece.text.lower() in FUNCTIONS
            and (after.kind == "number" or after.text in ("(", "-", "sqrt") or after.kind == "word")
        )
    )


def _is_unit_here(text: str, before: Piece, after: Piece, run: list[Piece]) -> bool:
    if not run or unit(text) is None:
        return False
    if text == "in" and (after.kind == "number" or (after.kind == "word" and len(after.text) > 2)):
        return False
    if text == "s" and before.text == "'":
        return False
    return (
        before.kind == "number"
        or before.text in (")", "*", "/", "°", "-", "3", "2")
        or (before.kind == "word" and unit(before.text) is not None)
        or (before.kind == "word" and run[-1].text == before.text)
    )


def _is_name(text: str, before: Piece, after: Piece, known: Collection[str]) -> bool:
    """Return whether a word is a symbol: the problem's, one of the page, or a short one in use."""
    lower = text.lower()
    touches = before.text in ("*", "/", "+", "-", "(", "^", "=", "|") or after.text in (
        "*",
        "/",
        "+",
        "-",
        "=",
        "^",
        ")",
        "|",
    )
    if lower in FUNCTIONS or (lower in _NEVER and text not in known):
        return text == "mg" and touches
    if unit(text) is not None and before.kind == "number" and text not in known:
        return False
    if text in known and text not in _ENGLISH:
        is_unit = unit(text) is not None and before.kind == "number" and not after.text == "="
        return not is_unit or text not in ("m", "g", "in", "N", "s", "J")
    if lower in _ENGLISH and not (len(text) == 1 and text.isupper()):
        return after.text == "=" and len(text) < 3 and text not in ("is", "so")
    if "_" in text or any(character.isdigit() for character in text):
        return len(text) <= 12 and (touches or "_" in text)
    if len(text) == 1 and text.isupper() and "_" in before.text + after.text:
        return True
    if text.isupper() and len(text) <= 3 and unit(text) is None:
        return touches or before.kind == "number"
    if len(text) <= 3 and unit(text) is None:
        return (
            touches
            or (before.kind == "number" and len(text) <= 2)
            or (len(text) == 1 and after.text.lower() in FUNCTIONS)
            or (len(text) == 1 and before.kind == "word" and before.text.lower() in FUNCTIONS)
        )
    if unit(text) is not None and len(text) <= 2:
        return after.text == "=" or (
            touches and before.kind != "number" and before.text != "/" and before.text != "*"
        )
    return False


def _chains(before: list[str], run: list[Piece], behind: list[str]) -> list[Chain]:
    """Return the chains of a run of formula pieces: more than one where it can't be one."""
    run = _trimmed(run)
    leads, times = False, ""
    while run and run[0].text in ("=", "*", "/", ":"):
        leads = leads or run[0].text == "="
        times = run[0].text if run[0].text in "*/" else times
        run = run[1:]
    if not any(p.kind in ("number", "word") for p in run):
        return []
    said = " ".join(before), " ".join(behind)
    chain = _read(run, *said, leads, times)
    if chain is not None:
        return [chain]
    for cut in _cuts(run):
        first, second = (
            _read(run[:cut], said[0], "", leads, times),
            _chains(before, run[cut:], behind),
        )
        if first is not None and second:
            return [first, *second]
    for start in range(1, min(len(run), 4)):
        chain = _read(_trimmed(run[start:]), *said, leads, times) if run[start:] else None
        if chain is not None and len(chain.sides) > 1:
            return [chain]
    return []


def _cuts(run: list[Piece]) -> list[int]:
    """Return where one chain may end and another begin: behind a unit or number, before a symbol."""
    return [
        place
        for place in range(1, len(run))
        if run[place].kind != "sign"
        and run[place - 1].text not in _OPERATORS
        and run[place - 1].text != "("
    ][:12]


def _trimmed(run: list[Piece]) -> list[Piece]:
    while run and run[-1].text in ("=", "*", "/", "+", "-", ":", "(", "^", "|"):
        run = run[:-1]
    while run and run[0].text in (")", "^", "+"):
        run = run[1:]
    while run and sum(p.text == "(" for p in run) != sum(p.text == ")" for p in run):
        if run[-1].text == ")":
            run = run[:-1]
        elif run[0].text == "(":
            run = run[1:]
        else:
            break
    return run


def _read(run: list[Piece], before: str, behind: str, leads: bool, times: str = "") -> Chain | None:
    """Return a run as a chain; None where the grammar has no reading for it."""
    names: dict[str, str] = {}
    texts = []
    for place, piece in enumerate(run):
        previous = run[place - 1] if place else Piece("", "")
        is_unit = (
            piece.kind == "word"
            and unit(piece.text) is not None
            and (
                previous.kind == "number"
                or previous.text in (")", "°")
                or (
                    previous.kind == "word"
                    and unit(previous.text) is not None
                    and previous.text not in names
                )
                or (
                    previous.text in ("/", "*")
                    and place > 1
                    and run[place - 2].kind == "word"
                    and unit(run[place - 2].text) is not None
                    and run[place - 2].text not in names
                )
            )
        )
        if piece.kind == "word" and not is_unit and piece.text.lower() not in FUNCTIONS:
            stand_in = names.setdefault(piece.text, f"q{len(names)}z")
            texts.append(stand_in)
        else:
            texts.append(piece.text.lower() if piece.text.lower() in FUNCTIONS else piece.text)
    text = " ".join(texts)
    try:
        sides = read_line(text, set(names.values()))
    except Unreadable:
        return None
    return Chain(sides, {v: k for k, v in names.items()}, before, behind, leads, times, text)
