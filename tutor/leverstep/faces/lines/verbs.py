"""The words of the plain lines, as the screens have their keys: what is typed, and what it does.

Each place that asks for a line reads its words here; its help is printed from them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum, auto

from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.working.cautions import CAUTION_SAID

_FOR_HELP = re.compile(
    r"(?:what|how|why|who|help me|please|can i|can you|i do not|i don['’]t|i can['’]?t|i cannot"
    r"|i am|i['’]m|no idea|not sure)\b[^\d=]*|[^\d=]+\?",
    re.IGNORECASE,
)
_SAID_AGAIN = "enter_alone"


class Place(Enum):
    """Where words are typed: at the problems, at a working, at one of a mixed set, and so on."""

    HOME = auto()
    WORKING = auto()
    END = auto()
    TASKS = auto()
    DOOR = auto()
    BOARD = auto()
    EXPLORING = auto()
    TOUR = auto()
    PICTURE = auto()
    SET = auto()
    WATCH = auto()


def _anything(rest: str) -> bool:
    del rest
    return True


def _nothing(rest: str) -> bool:
    return not rest


def _number_or_nothing(rest: str) -> bool:
    return not rest or rest.isdecimal()


def _count_or_anew(rest: str) -> bool:
    return rest.lower() == "anew" or _number_or_nothing(rest)


def _all_or_nothing(rest: str) -> bool:
    return rest.lower() in ("", "all")


@dataclass(frozen=True, slots=True)
class Verb:
    """One thing that can be typed.

    `words` do it, in any case of letters: none of them for whatever is no word, "" for Enter alone.
    `does` names the method `do_…` of who asks, which is given what follows the word; `takes` says
    whether that may follow. `told` is what it does, "" where help does not name it, and `shown` how
    help names it, its first word unless given. `without_line` is what can be done where no line is
    asked for too, `short` what is named where one needs to be reminded.
    """

    places: tuple[Place, ...]
    words: tuple[str, ...]
    does: str
    told: str = ""
    shown: str = ""
    takes: Callable[[str], bool] = _anything
    without_line: bool = False
    short: bool = False

    @property
    def name(self) -> str:
        """Return what help calls it."""
        return self.shown or next(iter(self.words), "")

    @property
    def help(self) -> str:
        """Return its line of help: `next: the next task.`"""
        return f"{self.name}: {self.told}" if self.name else self.told

    def rest_of(self, text: str) -> str | None:
        """Return what follows the word in a text; None where this is not what it says."""
        for word in self.words:
            count = word.count(" ") + 1
            parts = text.split(maxsplit=count)
            rest = " ".join(parts[count:])
            if " ".join(parts[:count]).lower() == word and self.takes(rest):
                return rest
        return None if self.words else text


_LOOKS_UP = (Place.HOME, Place.WORKING, Place.TASKS, Place.TOUR, Place.SET)
_HOME = (Place.HOME,)
_WORK = (Place.WORKING, Place.TASKS, Place.SET)
_PRACTICE = (Place.WORKING, Place.SET)
_END = (Place.END,)
_TASKS = (Place.TASKS,)
_DOOR = (Place.DOOR,)
_BOARD = (Place.BOARD,)
_EXPLORING = (Place.EXPLORING,)
_TOUR = (Place.TOUR,)
_PICTURE = (Place.PICTURE,)
_SET = (Place.SET,)
_WATCH = (Place.WATCH,)

# fmt: off
VERBS = (
    Verb(_HOME, (), "choose", "hear its problems.", shown="A joint, such as elbow"),
    Verb(_HOME, (), "choose", "open that problem.", shown="A number that was read out, or an id"),
    Verb(_HOME, ("find",), "find", "hear the problems with that in their title or joint.",
         shown="find and a word, such as find pail", takes=bool),
    Verb(_HOME, ("all",), "all", "hear all problems.", takes=_nothing),
    Verb(_HOME, ("joints", ""), "joints", "hear which weeks and joints there are.",
         takes=_nothing),
    Verb(_HOME, ("week",), "week", "hear the problems of that week of your course.",
         shown="week 2", takes=str.isdecimal),
    Verb(_HOME, ("start",), "start", "open the problem to start with.", takes=_nothing),
    Verb(_HOME, ("due",), "due", "hear what is due for review, or what comes next.",
         takes=_nothing),
    Verb(_HOME, ("about",), "about", "hear what a problem is about before you open it.",
         shown="about 2", takes=str.isdecimal),
    Verb(_HOME, ("mend",), "mend", "find and mend the slip that somebody else made in a problem.",
         shown="mend 2", takes=str.isdecimal),
    Verb(_HOME, ("mend two",), "mend_two", "find and mend two slips in it.", shown="mend two 2",
         takes=str.isdecimal),
    Verb(_HOME, ("go on",), "go_on",
         "take up the last working that is not finished; go on 2: the second of kept.",
         takes=_number_or_nothing),
    Verb(_HOME, ("kept",), "kept",
         "hear what is not finished; kept all: earlier ones and those off the list too.",
         takes=_all_or_nothing),
    Verb(_HOME, ("remove",), "remove", "take a working off that list; it stays kept.",
         shown="remove 2", takes=str.isdecimal),
    Verb(_HOME, ("numbers",), "numbers",
         "the same word gives the same numbers each time; numbers alone: new ones.",
         shown="numbers and a word"),
    Verb(_HOME, ("own",), "own", "numbers of your own body, where a problem takes them.",
         shown="own m_b = 72 kg"),
    Verb(_HOME, ("guidance",), "guidance",
         "how far you are led in what you open next: guidance lines, landmarks, blank or fading."),
    Verb(_HOME, ("mixed",), "mixed",
         "short problems of different kinds, one after the other; mixed 3: so many of them. A set "
         "that is begun is gone on with; mixed anew draws another.", takes=_count_or_anew),
    Verb(_HOME, ("tour",), "tour", "one line step by step, for anyone new here.", takes=_nothing),
    Verb(_HOME, ("progress",), "progress",
         "what to practise next, what is getting better and what is not yet; progress all: every "
         "figure."),
    Verb(_HOME, STOP, "stop", "stop here.", takes=_nothing),
    Verb(_HOME, ("help", "?"), "help"),

    Verb(_WORK, ("",), "enter_alone", without_line=True),
    Verb(_WORK, ("hint",), "hint", "a hint for this line, up to four.", short=True),
    Verb(_WORK, ("hints",), "hints", "read them again, at no cost.", without_line=True),
    Verb(_WORK, ("skip",), "skip", "skip this line for now.",
         shown="skip, or go on"),
    Verb(_WORK, ("go on",), "skip", takes=_nothing),
    Verb(_WORK, ("back",), "back", "change the line before; back and a symbol: change that line.",
         without_line=True, short=True),
    Verb(_WORK, ("earlier",), "earlier",
         "what you typed at this line before, the latest first; earlier 2: enter the second again.",
         takes=_number_or_nothing),
    Verb(_WORK, ("lines",), "lines", "read the working so far.", without_line=True, short=True),
    Verb(_WORK, ("missing",), "missing", "what is still to find, and which lines lead there.",
         without_line=True),
    Verb(_WORK, ("problem",), "problem",
         "read the problem, the picture and the assumptions again.", without_line=True),
    Verb(_LOOKS_UP, ("term",), "term", "what this line is about; with a word: what that means.",
         shown="term, or term and a word, such as term moment arm", without_line=True),
    Verb(_LOOKS_UP, ("terms",), "terms", "all terms that are explained.", takes=_nothing,
         without_line=True),
    Verb(_WORK, ("work out",), "work_out",
         "that arithmetic, with the symbols that have a value; a name and = keeps it.",
         shown="work out, and arithmetic, such as work out W_l*d_l", without_line=True),
    Verb(_WORK, ("use result",), "use_result", "enter what was worked out last as this line.",
         takes=_nothing),
    Verb(_WORK, ("givens",), "givens", "what is given, with g and the factors to take.",
         takes=_nothing, without_line=True),
    Verb(_PRACTICE, ("reasons",), "reasons",
         "name the likely slip behind a wrong line at once, or only in a hint.", takes=_nothing,
         without_line=True),
    Verb(_PRACTICE, ("conversions",), "conversions",
         "have lines that only convert a unit filled in: never, once you are sure of it, always.",
         takes=_nothing, without_line=True),
    Verb(_PRACTICE, ("units",), "units",
         "have a number without a unit taken in the unit asked for, or not.", takes=_nothing,
         without_line=True),
    Verb(_PRACTICE, ("picture",), "own_picture",
         "draw the free-body diagram yourself before the first line, have none, or have it given.",
         takes=_nothing, without_line=True),
    Verb(_PRACTICE, ("predict",), "predict",
         "be asked what you expect before the first line of a problem, or not.", takes=_nothing,
         without_line=True),
    Verb(_PRACTICE, ("sense",), "sense",
         "be asked after the last line whether the result makes sense, or not.", takes=_nothing,
         without_line=True),
    Verb(_PRACTICE, ("sure",), "sure", "be asked with each line how sure you are, or not.",
         takes=_nothing, without_line=True),
    Verb(_SET, ("next problem",), "next_problem",
         "the next problem of your mixed set; this one stays kept.", takes=_nothing,
         without_line=True),
    Verb(_WORK, STOP, "stop", "stop here. Everything is kept.", takes=_nothing, without_line=True),
    Verb(_TASKS, ("next",), "next", "the next task.", takes=_nothing, without_line=True,
         short=True),
    Verb(_TASKS, ("previous",), "previous", "the one before.", takes=_nothing, without_line=True),
    Verb(_TASKS, ("task",), "task", "that task.", shown="task 2", takes=str.isdecimal,
         without_line=True),
    Verb(_TASKS, ("time",), "time", "the time and the tasks that are left.", takes=_nothing,
         without_line=True, short=True),
    Verb(_TASKS, ("rules",), "rules", "the rules of this drill again.", takes=_nothing,
         without_line=True),
    Verb(_TASKS, ("hand in",), "hand_in", "hand in; after that nothing can be changed.",
         takes=_nothing, without_line=True),
    Verb(_TASKS, ("folder",), "folder", "go on with the record in another folder.",
         shown="folder, and a path", takes=bool, without_line=True),
    Verb(_WORK, ("help", "?"), "help", without_line=True, short=True),
    Verb(_WORK, (), "enter"),

    Verb(_END, ("again",), "again", "the same problem with other numbers.", takes=_nothing,
         short=True),
    Verb(_END, ("next",), "next", "another kind of problem.", takes=_nothing, short=True),
    Verb(_END, ("slip",), "slip", "another problem for the slip that was made.", takes=_nothing,
         short=True),
    Verb(_END, ("mend",), "mend", "find and mend the slip that somebody else made in this problem.",
         takes=_nothing),
    Verb(_END, ("mend two",), "mend_two", "find and mend two slips in it.", takes=_nothing),
    Verb(_END, ("lines",), "lines", "your lines, each with the worked one.", takes=_nothing,
         short=True),
    Verb(_END, ("summary",), "summary", "slips, and what the result means, again.",
         takes=_nothing),
    Verb(_END, ("page",), "page", "write your working to a file; page and a path, ending in "
         ".html, .md, .tex or .txt: to that file.", short=True),
    Verb(_END, STOP, "stop", "stop here. Everything is kept.", takes=_nothing, short=True),
    Verb(_END, ("help", "?"), "help"),
    Verb(_END, ("",), "remind"),
    Verb(_END, (), "remind"),

    Verb(_DOOR, ("", "begin", "go on"), "begin", shown="Enter", takes=_nothing, short=True),
    Verb(_DOOR, ("result",), "result", "reads the one handed in", takes=_nothing, short=True),
    Verb(_DOOR, STOP, "stop", "leaves", takes=_nothing, short=True),
    Verb(_DOOR, ("rules",), "rules", takes=_nothing),

    Verb(_BOARD, ("",), "next", "the next line of the worked solution.", shown="Enter"),
    Verb(_BOARD, ("back",), "back", "take the last line away."),
    Verb(_BOARD, ("again",), "again", "the last line and its reason once more."),
    Verb(_BOARD, ("change",), "change", "all lines are updated.",
         shown="change and a given, such as change m_l = 20 lb"),
    Verb(_BOARD, ("problem",), "problem", "the statement and the picture again."),
    Verb(_BOARD, ("lines",), "lines", "all lines so far."),
    Verb(_BOARD, STOP, "stop", "stop here.", takes=_nothing),
    Verb(_BOARD, ("help", "?"), "help"),
    Verb(_BOARD, (), "judge", "Anything else is judged as the class's answer for the next line."),

    Verb(_EXPLORING, (), "change", "what follows from that.",
         shown="A given and its value, such as d_l = 40 cm"),
    Verb(_EXPLORING, ("",), "results", "what is changed, and every result again.",
         shown="Enter alone"),
    Verb(_EXPLORING, ("over",), "over", "what follows from each of its values, and where it ends.",
         shown="over and a given, such as over d_l"),
    Verb(_EXPLORING, ("ask",), "ask",
         "a question to predict; its answer and the reason come after yours."),
    Verb(_EXPLORING, ("own",), "own", "all givens have the problem's own values again."),
    Verb(_EXPLORING, ("givens",), "givens",
         "every given, its value, and how far it may be changed."),
    Verb(_EXPLORING, ("problem",), "problem",
         "the statement again, and the picture with the numbers as they are now."),
    Verb(_EXPLORING, STOP, "stop", "stop here.", takes=_nothing),
    Verb(_EXPLORING, ("help", "?"), "help"),

    Verb(_TOUR, (), "enter", "it is entered as the line.", shown="What you are told to type"),
    Verb(_TOUR, ("go on",), "go_on", "the next step.", takes=_nothing),
    Verb(_TOUR, ("",), "enter_alone", "what to type, again; once more: the next step.",
         shown="Enter alone", takes=_nothing),
    Verb(_TOUR, ("hint",), "hint", "a hint for this line.", takes=_nothing),
    Verb(_TOUR, ("again",), "again", "this step again.", takes=_nothing),
    Verb(_TOUR, ("problem",), "problem", "the problem and its picture again.", takes=_nothing),
    Verb(_TOUR, ("skip",), "skip", "leave the tour.", takes=_nothing),
    Verb(_TOUR, STOP, "stop", "leave the tour too.", takes=_nothing),
    Verb(_TOUR, ("help", "?"), "help"),

    Verb(_PICTURE, (), "place", "it is drawn.", shown="A force, where and which way"),
    Verb(_PICTURE, ("",), "enter_alone"),
    Verb(_PICTURE, ("forces",), "forces", "the forces to choose from; some of them do not act.",
         takes=_nothing, short=True),
    Verb(_PICTURE, ("points",), "points", "the points to choose from, and the distances.",
         takes=_nothing, short=True),
    Verb(_PICTURE, ("directions",), "directions", "how a direction is told.", takes=_nothing,
         short=True),
    Verb(_PICTURE, ("drawn",), "drawn", "what is drawn so far.", takes=_nothing, short=True),
    Verb(_PICTURE, ("take away",), "take_away", "take it out of the diagram.", takes=bool,
         shown="take away, and a force"),
    Verb(_PICTURE, ("done",), "finish", "the diagram is complete.", takes=_nothing, short=True),
    Verb(_PICTURE, ("hint",), "picture_hint", "a hint on what is wrong or missing.",
         takes=_nothing, short=True),
    Verb(_PICTURE, ("hints",), "picture_hints", "read them again, at no cost.", takes=_nothing),
    Verb(_PICTURE, ("skip", "go on"), "skip_picture", "go on without it; the right one is shown.",
         shown="skip, or go on", takes=_nothing, short=True),
    Verb(_PICTURE, STOP, "stop", "stop here. Everything is kept.", takes=_nothing),
    Verb(_PICTURE, ("help", "?"), "help", short=True),

    Verb(_WATCH, ("",), "next", "who to go to next, and why.", shown="Enter alone"),
    Verb(_WATCH, ("students",), "students", "how every student stands, the next to go to first.",
         takes=_nothing),
    Verb(_WATCH, (), "student", "how that student stands.", shown="An id, or part of a name"),
    Verb(_WATCH, ("slips",), "slips", "which slips are made now, and where.", takes=_nothing),
    Verb(_WATCH, ("lines",), "lines", "how many students are at which line.", takes=_nothing),
    Verb(_WATCH, ("counts",), "counts", "how many are at work, away, or have handed in.",
         takes=_nothing),
    Verb(_WATCH, ("troubles",), "troubles", "which records could not be read.", takes=_nothing),
    Verb(_WATCH, STOP, "stop", "stop watching.", takes=_nothing),
    Verb(_WATCH, ("help", "?"), "help"),
)
# fmt: on
"""Every word of every place, in the order in which help names them."""


def verbs_at(place: Place) -> tuple[Verb, ...]:
    """Return what can be typed at a place."""
    return tuple(verb for verb in VERBS if place in verb.places)


def asks_for_help(text: str) -> bool:
    """Return whether a text asks what to do: words alone, and no line or place of a diagram."""
    return _FOR_HELP.fullmatch(text.strip()) is not None


def understood(text: str, verbs: Iterable[Verb]) -> tuple[Verb, str] | None:
    """Return what a text says, with what follows the word; None where that is nothing.

    What is no word comes after all words.
    """
    for verb in sorted(verbs, key=lambda one: not one.words):
        rest = verb.rest_of(text)
        if rest is not None:
            return verb, rest
    return None


def cut_short(text: str, verbs: Iterable[Verb]) -> Verb | None:
    """Return the verb whose word a text is, without what should follow it; None for any other."""
    return next((verb for verb in verbs if text.lower() in verb.words), None)


def help_of(verbs: Iterable[Verb]) -> tuple[str, ...]:
    """Return the lines of help of what can be typed."""
    return tuple(verb.help for verb in verbs if verb.told)


class Listening:
    """Who asks for lines at one place, and does what they say."""

    place: Place

    @property
    def verbs(self) -> tuple[Verb, ...]:
        """Return what can be typed now."""
        return verbs_at(self.place)

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what of it help is to name."""
        return self.verbs

    def follow(self, text: str) -> bool:
        """Do what a text says; return whether it says anything here."""
        found = understood(text, self.verbs)
        if found is not None:
            verb, rest = found
            is_asked = not verb.words and asks_for_help(rest)
            does = _SAID_AGAIN if is_asked and self._says_again else verb.does
            getattr(self, f"do_{does}")(rest)
        return found is not None

    @property
    def _says_again(self) -> bool:
        """Return whether Enter alone says again what is asked for, and what can be typed."""
        return any(verb.does == _SAID_AGAIN for verb in self.verbs)


class Conversation(Listening):
    """Asks for one line after another with the same prompt, until the input ends, or `stop`."""

    prompt: str

    def __init__(self, say: Say, listen: Listen) -> None:
        """Begin.

        Args:
            say: what says a line.
            listen: what asks for one, with a prompt.
        """
        self.say = say
        self.listen = listen
        self.is_left = False

    def converse(self) -> None:
        """Ask and do what is said until it is left."""
        self.say("Type help for what you can type.")
        while not self.is_left:
            self.say("")
            self.lead_in()
            try:
                self.follow(self.listen(self.prompt).strip())
            except (EOFError, KeyboardInterrupt):
                self.say("")
                self.do_stop("")

    def lead_in(self) -> None:
        """Say what comes before the prompt; nothing unless there is something."""

    def do_stop(self, _: str) -> None:
        """Stop."""
        self.say("Stopped.")
        self.is_left = True

    def do_help(self, _: str) -> None:
        """Say what can be typed."""
        for line in (*help_of(self.offered), CAUTION_SAID):
            self.say(line)
