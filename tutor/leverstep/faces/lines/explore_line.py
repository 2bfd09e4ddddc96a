"""Exploring line by line, for screen readers: a given is changed by typing it, and all is told."""

from __future__ import annotations

from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe
from leverstep.explore.answers import ANSWERS
from leverstep.explore.exploration import Exploration
from leverstep.explore.predictions import Prediction
from leverstep.explore.results import direction_of
from leverstep.explore.sentences import change
from leverstep.explore.table import stated, told
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.working.own import OwnError
from leverstep.working.wording import CAUTION_IN_SHORT, CAUTION_SAID

HELP = (
    "A given and its value, such as d_l = 40 cm: what follows from that.",
    "Enter alone: what is changed, and every result again.",
    "over and a given, such as over d_l: what follows from each of its values, and where it ends.",
    "ask: a question to predict; its answer and the reason come after yours.",
    "own: all givens have the problem's own values again.",
    "givens: every given, its value, and how far it may be changed.",
    "problem: the statement again, and the picture with the numbers as they are now.",
    "stop: stop here.",
    CAUTION_SAID,
)


def explore_lines(exploration: Exploration, say: Say, listen: Listen, sweeps: bool = False) -> None:
    """Explore until the input ends, or `stop`.

    Args:
        exploration: what is explored.
        say: what tells a line.
        listen: what asks for a line.
        sweeps: whether to tell first what follows over the given on the axis.
    """
    _explore(exploration, lambda text: say(read_out(text.replace("→", "to"))), listen, sweeps)


def _explore(exploration: Exploration, say: Say, listen: Listen, sweeps: bool) -> None:
    """Explore, with what is said put for the ear already."""
    for line in stated(exploration.own):
        say(line)
    say(CAUTION_SAID)
    _results(exploration, say)
    if sweeps:
        _tell_sweep(exploration, say)
    say("Type help for what you can type.")
    while True:
        say("")
        try:
            typed = listen("Explore: ").strip()
            if typed.lower() not in STOP:
                _follow(exploration, typed, say, listen)
                continue
        except (EOFError, KeyboardInterrupt):
            say("")
        say("Stopped.")
        return


def _tell_sweep(exploration: Exploration, say: Say) -> None:
    """Tell what follows over the given on the axis."""
    for line in told(exploration.now, exploration.sweep):
        say(line)


def _follow(exploration: Exploration, typed: str, say: Say, listen: Listen) -> None:
    word, _, rest = typed.partition(" ")
    match word.lower():
        case "":
            _results(exploration, say)
        case "over":
            trouble = exploration.hold(rest.strip()) if rest.strip() else ""
            if trouble:
                say(f"Not done: {trouble}.")
            else:
                _tell_sweep(exploration, say)
        case "ask":
            _ask(exploration, say, listen)
        case "own":
            exploration.set_all_back()
            say("All givens have the problem's own values again.")
            _results(exploration, say)
        case "givens":
            _givens(exploration, say)
        case "problem":
            for line in (*stated(exploration.own), *describe(exploration.now), CAUTION_IN_SHORT):
                say(line)
        case "help" | "?":
            for line in HELP:
                say(line)
        case _:
            try:
                exploration.change(typed)
            except OwnError as error:
                say(f"Not changed: {error}. Type help for what you can type.")
            else:
                _results(exploration, say)


def _results(exploration: Exploration, say: Say) -> None:
    """Tell every result, and how it differs from that with the problem's own numbers."""
    values, own = exploration.values, exploration.own_values
    if values is None:
        say(exploration.trouble)
        return
    moved = [one for one in exploration.movables if exploration.is_moved(one)]
    for one in moved:
        now, before = one.written(exploration.now), one.written(exploration.own)
        say(f"{one.sign} {now}, in place of {before}.")
    for result in exploration.results:
        differs = ""
        if moved and own is not None:
            how = change(own[result.key], values[result.key])
            differs = f": {how}, from {result.written(own[result.key])}"
        points = f", {direction_of(values)}" if result.role == "reaction" else ""
        say(f"{result.sign}, {result.name}, {result.written(values[result.key])}{points}{differs}.")


def _givens(exploration: Exploration, say: Say) -> None:
    for one in exploration.movables:
        low, high = (one.at(exploration.now, end) for end in (one.span.low, one.span.high))
        say(f"{one.sign}, {one.name}: {one.written(exploration.now)}, from {low} to {high}.")


def _ask(exploration: Exploration, say: Say, listen: Listen) -> None:
    """Ask the next question, take an answer by its number, and tell what is true."""
    asked = exploration.next_prediction()
    if asked is None:
        say("No question has a clear answer with these numbers.")
        return
    _put(asked, say)
    while True:
        typed = listen(f"Answer, 1 to {len(ANSWERS)}: ").strip().lower()
        if not typed or typed in STOP:
            say("You have left the question.")
            return
        if typed in map(str, range(1, len(ANSWERS) + 1)):
            _tell_answer(exploration, asked, int(typed), say)
            return
        if typed == "ask":
            _put(asked, say)
        else:
            last = len(ANSWERS)
            say(f"Type a number from 1 to {last}; ask says the question again, Enter leaves it.")


def _put(asked: Prediction, say: Say) -> None:
    """Say a question and its answers."""
    say(asked.asks)
    for number, answer in enumerate(ANSWERS, 1):
        say(f"{number}: it {answer}.")


def _tell_answer(exploration: Exploration, asked: Prediction, number: int, say: Say) -> None:
    exploration.show(asked)
    say(asked.told(ANSWERS[number - 1]))
    say(f"{asked.movable.sign} now has the value that was asked about; own sets it back.")
