"""One term of the course, as a table of a file in `hints` tells it."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass

from leverstep.course.faults import Reader
from leverstep.course.plain_text import shown
from leverstep.statics.kinds import KINDS
from leverstep.statics.units import unit

LONGEST_NAME, MOST_NAMES = 40, 20
"""Characters of a name of a term, and how many other names it may have."""

LONGEST_SENTENCE = 200
"""Characters of each of the sentences of a term."""

ROWS, COLUMNS = 8, 44
"""The largest picture: rows and characters of a row."""

_TWO = re.compile(r"[.!?]\s+[A-Z]")
"""Where one sentence ends and another begins."""


@dataclass(frozen=True, slots=True)
class GlossaryTerm:
    """A term: what it is, how one meets it, and a picture that its words tell too.

    `also` are other names of it. `kinds` are the kinds of lines that it is about, `given` limits it
    to lines that start from a given in one of these units; empty means any.
    """

    name: str
    also: tuple[str, ...]
    kinds: tuple[str, ...]
    given: tuple[str, ...]
    what: str
    everyday: str
    picture: tuple[str, ...]
    seen: str

    @property
    def names(self) -> tuple[str, ...]:
        """Return every name that it goes by."""
        return (self.name, *self.also)

    def is_about(self, kind: str, unit_given: str) -> bool:
        """Return whether lines of a kind that start from a given in some unit are about it."""
        return kind in self.kinds and (not self.given or unit_given in self.given)


def read_term(reader: Reader) -> GlossaryTerm:
    """Return the term of a table; what is wrong with it is noted."""
    term = GlossaryTerm(
        name=_checked_name(reader, "name", reader.text("name")),
        also=tuple(_checked_name(reader, "also", one) for one in reader.texts("also")),
        kinds=_among(reader, "kinds", KINDS),
        given=reader.texts("given"),
        what=_sentence(reader, "what"),
        everyday=_sentence(reader, "everyday"),
        picture=reader.drawing("picture", ROWS, COLUMNS),
        seen=_sentence(reader, "seen", is_one=False),
    )
    if len(term.also) > MOST_NAMES:
        reader.fault("also", f"found {len(term.also)} names", f"at most {MOST_NAMES}")
    for spelling in term.given:
        known = unit(spelling)
        if known is None or known.sign != spelling:
            reader.fault("given", f"found {shown(spelling)}", "the short signs of units")
    reader.finish()
    return term


def _among(reader: Reader, key: str, names: Collection[str]) -> tuple[str, ...]:
    """Return a list of texts that are all among some names."""
    found = reader.texts(key)
    for name in found:
        if name not in names:
            expected = "one of " + ", ".join(names)
            reader.fault(key, f"found {shown(name)}{reader.near(name, names)}", expected)
    return found


def _checked_name(reader: Reader, key: str, name: str) -> str:
    """Return a name of a term, noted where it is too long to stand in a list."""
    if len(name) > LONGEST_NAME:
        reader.fault(key, f"found {len(name)} characters", f"at most {LONGEST_NAME}")
    return name


def _sentence(reader: Reader, key: str, is_one: bool = True) -> str:
    """Return a text that is one sentence, or may be several."""
    text = reader.text(key, expected="a sentence" if is_one else "the picture in words")
    if len(text) > LONGEST_SENTENCE:
        reader.fault(key, f"found {len(text)} characters", f"at most {LONGEST_SENTENCE}")
    elif text and not text.endswith((".", "!", "?")):
        reader.fault(key, "found no full stop at its end", "a whole sentence")
    elif is_one and _TWO.search(text):
        reader.fault(key, "found more than one sentence", "one sentence")
    return text
