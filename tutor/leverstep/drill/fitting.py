"""Whether what a record was begun with fits a drill: its start word and the numbers it sets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.bench.record_lines import RecordLine
from leverstep.drill.drill import Drill, Task
from leverstep.drill.lines import is_shown, start_key_in
from leverstep.drill.start_word import is_key_of


def misfits(drill: Drill, student: str, firsts: Iterable[RecordLine]) -> Iterator[str]:
    """Yield of each first line of a student's records why it does not fit; "" where it does.

    The tasks are set once, however many records there are.
    """
    expected: dict[str, tuple[Task, ...]] = {}
    for first in firsts:
        key = start_key_in(first)
        if not is_key_of(drill.start_word, key):
            yield "the start word of the drill was set after this sitting was begun"
            continue
        if key not in expected:
            expected[key] = drill.with_key(key).tasks(student)
        fits = is_shown(first, expected[key])
        yield "" if fits else "the drill has different numbers now from when this sitting was begun"
