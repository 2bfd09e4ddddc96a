"""Which tasks of a drill were withdrawn, in words."""

from __future__ import annotations

from leverstep.drill.drill import Drill, Withdrawn


def withdrawn_told(drill: Drill, number: int) -> str:
    """Return that a task was withdrawn and what it earns, "" where it was not."""
    match drill.task_items[number - 1].withdrawn:
        case Withdrawn.NO_MARKS:
            return f"Task {number} has been withdrawn: it earns no marks."
        case Withdrawn.FULL_MARKS:
            return f"Task {number} has been withdrawn: everybody has full marks for it."
    return ""


def faulty_told(drill: Drill, number: int) -> str:
    """Return which problems of the bank of a task were withdrawn, "" where none was."""
    item = drill.task_items[number - 1]
    titles = ", ".join(one.title for one in item.bank if one.id in item.faulty)
    is_told = titles and number not in drill.withdrawn_tasks
    return f"Withdrawn from task {number}, with full marks: {titles}." if is_told else ""


def all_withdrawn_told(drill: Drill) -> tuple[str, ...]:
    """Return a sentence for each task that was withdrawn, or problems of it."""
    numbers = range(1, len(drill.task_items) + 1)
    told = (withdrawn_told(drill, number) or faulty_told(drill, number) for number in numbers)
    return tuple(filter(None, told))
