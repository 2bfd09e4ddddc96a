"""The lines of a page that is written freely, each found again wherever it is moved to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher

from leverstep.dialogue.replies import DialogueAnswer, Reply
from leverstep.working.verdict import Outcome


@dataclass(eq=False, slots=True)
class PageLine:
    """A line of the page, from when it is first written until it is gone.

    `entered` is its text as it was entered last, "" before, and `reply` what came of that. `stands`
    are the entries of the working that it made, by key, each with its text there.
    """

    text: str
    entered: str = ""
    reply: Reply | None = None
    stands: dict[str, str] = field(default_factory=dict)

    @property
    def is_blank(self) -> bool:
        """Return whether nothing is written on it."""
        return _is_blank(self.text)

    @property
    def is_new(self) -> bool:
        """Return whether it has a text that was not entered yet."""
        return not self.is_blank and self.text.strip() != self.entered.strip()

    @property
    def is_settled(self) -> bool:
        """Return whether it has the text that was entered last."""
        return not self.is_blank and not self.is_new

    @property
    def is_unread(self) -> bool:
        """Return whether it could not be read as it stands, and so is no entry of the working."""
        made = self.reply.verdict if isinstance(self.reply, DialogueAnswer) else None
        return self.is_settled and made is not None and made.outcome is Outcome.UNREAD


def found_again(
    lines: Sequence[PageLine], texts: Sequence[str], put_back: Callable[[str], PageLine | None]
) -> Iterator[PageLine]:
    """Yield the lines with the texts that they have now, wherever they were moved to.

    Lines are the same from the top and from the bottom up to where the page was changed. There
    they are found by their texts, and else in their order.

    Args:
        lines: those that there were.
        texts: all lines of the page as it is now.
        put_back: what finds a line that was taken away before, by its text.
    """
    before = [line.text for line in lines]
    head = _alike(before, texts)
    tail = _alike(before[head:][::-1], texts[head:][::-1])
    end, last = len(before) - tail, len(texts) - tail
    yield from lines[:head]
    yield from _changed(lines[head:end], texts[head:last], put_back)
    yield from lines[end:]


def _changed(
    lines: Sequence[PageLine], texts: Sequence[str], put_back: Callable[[str], PageLine | None]
) -> Iterator[PageLine]:
    """Yield lines with other texts; one that was taken away is itself where it is put back.

    By empty lines nothing is found.
    """
    before = [line.text for line in lines]
    matcher = SequenceMatcher(_is_blank, before, texts, autojunk=False)
    for what, top, bottom, first, last in matcher.get_opcodes():
        if what == "equal":
            yield from lines[top:bottom]
            continue
        between = iter(lines[top:bottom])
        for text in texts[first:last]:
            line = put_back(text) or next(between, None) or PageLine("")
            line.text = text
            yield line


def _alike(before: Sequence[str], now: Sequence[str]) -> int:
    """Return how many texts are the same from the first on."""
    pairs = enumerate(zip(before, now, strict=False))
    most = min(len(before), len(now))
    return next((place for place, (one, other) in pairs if one != other), most)


def _is_blank(text: str) -> bool:
    return not text.strip()
