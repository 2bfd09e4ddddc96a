"""Whether what a record was begun with fits a drill: its key and the numbers it sets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.bench.record_lines import RecordLine
from leverstep.drill.drill import Drill, Task, same_student
from leverstep.drill.lines import is_shown, start_key_in
from leverstep.drill.own_key import own_key
from leverstep.drill.start_word import is_key_of


def is_keyed(drill: Drill, student: str, key: str) -> bool:
    """Return whether a key is that of the start word of a drill, or of a student's own numbers.

    Without the secret of these any key may be; where there is neither, none is.
    """
    if not drill.own_numbers:
        return is_key_of(drill.start_word, key)
    if drill.number_secret:
        return key == own_key(drill.number_secret, drill.id, same_student(student))
    return bool(key)


def keyed(drill: Drill, first: RecordLine) -> Drill:
    """Return a drill with the numbers of a record, by the key in its first line.

    Where the secret of own numbers is at hand they come of that, whatever a record says.
    """
    return drill if drill.number_secret else drill.with_key(start_key_in(first))


def misfits(drill: Drill, student: str, firsts: Iterable[RecordLine]) -> Iterator[str]:
    """Yield of each first line of a student's records why it does not fit; "" where it does.

    The tasks are set once, however many records there are.
    """
    expected: dict[str, tuple[Task, ...]] = {}
    for first in firsts:
        key = start_key_in(first)
        if not is_keyed(drill, student, key):
            set_later = (
                "own numbers of the students were"
                if drill.own_numbers
                else "start word of the drill was"
            )
            yield f"the {set_later} set after this sitting was begun"
            continue
        if key not in expected:
            expected[key] = drill.with_key(key).tasks(student)
        fits = is_shown(first, expected[key])
        yield "" if fits else "the drill has different numbers now from when this sitting was begun"
