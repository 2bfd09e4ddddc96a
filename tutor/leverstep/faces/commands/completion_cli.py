"""The command for completion: a script that lets a shell finish what is begun with Tab."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from functools import partial
from shlex import join, quote
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import add_command
from leverstep.faces.terminal import say

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material

SHELLS = ("bash", "zsh", "fish")

_NAMES = {
    "bash": "_leverstep_problems",
    "zsh": "_leverstep_problems",
    "fish": "(_leverstep_problems)",
    "preamble": {
        "bash": """\
_leverstep_problems() {
  compgen -W "$("${COMP_WORDS[0]}" problems 2> /dev/null | cut -d ' ' -f 1)" -- "$1"
  compgen -f -- "$1"
}""",
        "zsh": """\
_leverstep_problems() {
  compadd -- ${(f)"$(${_comp_command1:-leverstep} problems 2> /dev/null | cut -d ' ' -f 1)"}
  _files
}""",
        "fish": """\
function _leverstep_problems
  set -l typed (commandline -opc)
  $typed[1] problems 2> /dev/null | string replace -r ' .*' ''
  __fish_complete_path (commandline -ct)
end""",
    },
}
"""How each shell finds the names of problems when they are asked for, and files beside them."""

FREE = (
    "ADDRESS", "ENTRY", "ID", "KEY", "N", "SYMBOL", "KEY=ENTRY", "SYMBOL=VALUE", "URL", "WORD",
    "SECTION",
)  # fmt: skip
"""What is called so is the user's own, and is not completed."""


def add_completion(commands: Commands, parser: argparse.ArgumentParser) -> None:
    """Add the command `completion`, which knows all commands of a parser."""
    told = "print a script that completes commands in a shell"
    completion = add_command(commands, "completion", told, "completion bash > leverstep.bash")
    completion.description = (
        "Print a script that completes commands, options, names of problems and files with Tab. "
        'For bash put eval "$(leverstep completion bash)" into ~/.bashrc, for zsh the same with '
        "zsh into ~/.zshrc, for fish leverstep completion fish | source into config.fish."
    )
    completion.add_argument("shell", choices=SHELLS, help="the shell that completes them")
    completion.set_defaults(command=partial(_print_script, parser))


def _print_script(
    parser: argparse.ArgumentParser, options: argparse.Namespace, material: Material
) -> int:
    del material
    from shtab import DIRECTORY, FILE, complete

    found = {
        "NAME": _NAMES, "PROBLEM": _NAMES, "FILE": FILE, "RECORDS": FILE, "PATH": FILE,
        "CSV": FILE, "DIR": DIRECTORY,
    }  # fmt: skip
    for action in arguments(parser):
        if isinstance(action.metavar, str) and action.metavar in found:
            action.complete = found[action.metavar]  # type: ignore[attr-defined]
        elif action.choices and any(" " in str(choice) for choice in action.choices):
            action.complete = _phrases(action.dest, action.choices)  # type: ignore[attr-defined]
    say(complete(parser, options.shell))
    return 0


def _phrases(name: str, choices: Iterable[str]) -> dict[str, object]:
    """Return how to complete choices, some of several words: bash offers only those of one."""
    known = f"_leverstep_{name}"
    words = join(choice for choice in choices if " " not in choice)
    return {
        "bash": known,
        "zsh": known,
        "fish": f"({known})",
        "preamble": {
            "bash": f'{known}() {{ compgen -W {quote(words)} -- "$1"; }}',
            "zsh": f"{known}() {{ compadd -- {join(choices)}; }}",
            "fish": f"function {known}\n  printf '%s\\n' {join(choices)}\nend",
        },
    }


def arguments(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Yield all that may be typed after a command, and after the commands within it."""
    for action in parser._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                yield from arguments(inner)
