"""The words of a place of the plain lines, and the keys for the same: what each face then tells."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from leverstep.course.symbols import read_out
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static

from helpers.pilots import press, settle

Facts = Callable[[Sequence[str]], Iterable[str]]
"""What of the lines that are said must stand on the screen too."""


def everything(said: Sequence[str]) -> Iterable[str]:
    """Return all that is said."""
    return said


@dataclass(frozen=True)
class Word:
    """One thing that is typed, with the keys for the same.

    `facts` tells what must stand on the screen once the keys are pressed, `back` what is pressed
    when that has been looked at.
    """

    typed: str
    keys: tuple[str, ...] = ()
    facts: Facts = everything
    back: tuple[str, ...] = ()


def said_after(
    words: Sequence[Word], run: Callable[[Callable[[str], None], Callable[[str], str]], object]
) -> list[list[str]]:
    """Return what is said in plain lines after each word.

    Args:
        words: what is typed.
        run: what works a place, handed what says a line and what asks for one.
    """
    waiting, parts = iter(words), [list[str]()]

    def listen(prompt: str) -> str:
        del prompt
        parts.append([])
        for word in waiting:
            return word.typed
        raise EOFError

    run(lambda line: parts[-1].append(line), listen)
    return parts[1 : len(words) + 1]


def loose(text: str) -> str:
    """Return a text for the ear, without marks that one face has, or letters that begin it."""
    return " ".join(re.sub(r"[.,:;=·()|]|\u2192", " ", read_out(text)).lower().split())


def on_screen(screen: Screen[object]) -> str:
    """Return all that stands on a screen, lists and fields too."""
    texts = [str(part.content) for part in screen.query(Static)]
    texts += [str(one.prompt) for part in screen.query(OptionList) for one in part.options]
    texts += [part.value for part in screen.query(Input)]
    return loose(" | ".join(texts))


async def tells_alike(pilot: Pilot[int], words: Sequence[Word], said: Sequence[list[str]]) -> None:
    """Press the keys of each word, and hold what is said against what stands on the screen."""
    assert len(said) == len(words)
    for word, lines in zip(words, said, strict=True):
        if word.keys:
            await press(pilot, *word.keys)
        await settle(pilot)
        shown, facts = on_screen(pilot.app.screen), [one for one in word.facts(lines) if loose(one)]
        assert facts, word.typed
        for fact in facts:
            assert loose(fact) in shown, (word.typed, fact, shown)
        if word.back:
            await press(pilot, *word.back)
