"""Where the very question is begun already, in plain lines: go on with it, or begin anew."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from leverstep.course.shelf import Shelf
from leverstep.dialogue.kept_told import ANEW_KEEPS, begun_told
from leverstep.faces.openings import Opening, begun_before
from leverstep.faces.terminal import STOP, Listen, Say

_GO_ON, _ANEW = ("go on", ""), ("anew", "new")


def which_working(opening: Opening, shelf: Shelf, say: Say, listen: Listen) -> Opening | None:
    """Return what to open, as the student answers where it is asked; None to open nothing."""
    kept = begun_before(opening, shelf)
    if kept is None:
        return opening
    say(begun_told(kept, datetime.now().astimezone()))
    say(f"Type go on, or Enter alone, to go on with it; anew to begin anew. {ANEW_KEEPS}")
    while True:
        try:
            answer = " ".join(listen("Go on or anew: ").lower().split())
        except (EOFError, KeyboardInterrupt):
            say("")
            answer = STOP[0]
        if answer in _GO_ON:
            return replace(opening, path=kept.path)
        if answer in _ANEW:
            return replace(opening, anew=True)
        if answer in STOP:
            say("Nothing was opened.")
            return None
        say("Type go on, anew, or stop.")


def tell_begun(opening: Opening, shelf: Shelf, say: Say) -> None:
    """Say what is kept where nobody is there to be asked: it begins anew, as it was called."""
    kept = begun_before(opening, shelf)
    if kept is not None:
        say(begun_told(kept, datetime.now().astimezone()))
        say("There is no terminal to ask at, so it begins anew; --go-on goes on with it.")
