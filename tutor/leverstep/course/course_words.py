"""What a course calls the joints, levels and kinds of its problems, as a teacher's plan says.

They stand in the lists of problems and in what is told of practice. Commands and files keep the
names of the problem files, which no course changes.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from leverstep.course.listing import ASKED, KINDS, joint_name

if TYPE_CHECKING:
    from leverstep.course.cards import Card
    from leverstep.course.faults import Reader

WORDS = "words"
"""The table of a plan that has them."""

LONGEST_WORD, LONGEST_LEVEL = 30, 14
"""Characters of one, and of a level, so that they fit the lists."""

_LEVELS = ("1", "2", "3")


@dataclass(frozen=True, slots=True)
class CourseWords:
    """A course's own words, by what problem files name; what is not there has the usual words."""

    joints: Mapping[str, str] = field(default_factory=dict)
    levels: Mapping[str, str] = field(default_factory=dict)
    kinds: Mapping[str, str] = field(default_factory=dict)

    def joint(self, joint: str) -> str:
        """Return what problems of a joint are listed under: `Elbow`."""
        return self.joints.get(joint) or joint_name(joint)

    def level(self, difficulty: int) -> str:
        """Return how hard a problem is: `level 2`."""
        return self.levels.get(str(difficulty)) or f"level {difficulty}"

    def kind(self, asks: str) -> str:
        """Return what a kind of problem is called, by what it asks for: `net moment at a joint`."""
        return self.kinds.get(asks) or KINDS.get(asks, asks)

    def asked(self, asks: str) -> str:
        """Return what is asked for, behind `Asks for the`: `effort`."""
        return self.kinds.get(asks) or asks

    def placed(self, card: Card) -> str:
        """Return a problem by its title and place: `A pail of water (Elbow, level 1)`."""
        return f"{card.title} ({self.joint(card.joint)}, {self.level(card.difficulty)})"


USUAL_WORDS = CourseWords()
"""The words without a plan."""


def read_words(reader: Reader, joints: Collection[str]) -> CourseWords:
    """Return the words of a plan, the usual ones where it has none.

    Args:
        reader: of the whole plan.
        joints: those of the problems that there are.
    """
    table = reader.child(WORDS, needed=False, like='[words.level] with 1 = "first steps"')
    if table is None:
        return USUAL_WORDS
    words = CourseWords(
        dict(_named(table, "joint", joints, LONGEST_WORD)),
        dict(_named(table, "level", _LEVELS, LONGEST_LEVEL)),
        dict(_named(table, "asks", ASKED, LONGEST_WORD)),
    )
    table.finish()
    return words


def _named(
    words: Reader, part: str, names: Collection[str], longest: int
) -> Iterator[tuple[str, str]]:
    """Yield what is named in one part of the words, and its word."""
    table = words.child(part, needed=False, like=f"[words.{part}]")
    if table is None:
        return
    for name in table.table:
        if name not in names:
            expected = f"one of {', '.join(sorted(names))}"
            table.asked.add(name)
            table.fault(name, f"there is no such {part}{table.near(name, names)}", expected)
            continue
        word = table.text(name, expected=f"a text of at most {longest} characters")
        if len(word) > longest:
            table.fault(name, f"found {len(word)} characters", f"at most {longest}")
        elif word:
            yield name, word
