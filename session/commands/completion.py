"""`toothline completion SHELL`: commands, options and the names of saws, completed by the Tab key of one's shell.

The script that a shell takes asks the program itself at each Tab, by way of argcomplete, so that it knows the saws that
hang in the till today. Whoever presses no Tab loads nothing of it.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from argcomplete.finders import CompletionFinder

HELP = "print what your shell needs to complete commands, options and saws by its Tab key"
EXAMPLE = 'eval "$(toothline completion bash)"'

SHELLS: Final = ("bash", "zsh", "fish")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "shell",
        metavar="SHELL",
        choices=SHELLS,
        help="bash or zsh: the line above, at the end of ~/.bashrc or ~/.zshrc (there after compinit); "
        "fish: toothline completion fish > ~/.config/fish/completions/toothline.fish",
    )


def run(args: argparse.Namespace) -> int:
    """Print the script for one shell."""
    from argcomplete.shell_integration import shellcode

    from session.commands.output.plain_data import write

    write(shellcode(["toothline"], shell=args.shell).lstrip())
    return 0


def complete(parser: argparse.ArgumentParser) -> None:
    """Answer the shell that waits: what could stand next, of what ``parser`` takes. Does not come back."""
    finder_of(parser)(parser, always_complete_options=False)


def finder_of(parser: argparse.ArgumentParser) -> CompletionFinder:
    """What finds the words that could stand next; a value of ``parser`` is completed by what help calls it."""
    from argcomplete.completers import DirectoriesCompleter, FilesCompleter
    from argcomplete.finders import CompletionFinder

    files = FilesCompleter()
    named: dict[str, Callable[..., Iterable[str]]] = {
        "DIR": DirectoriesCompleter(),
        "SAW": _saws,
        "RECIPE": _or_files(_recipes, files),
        "LOG": _or_files(_saws, files),
    }
    for action in _values(parser):
        called = str(action.metavar)
        # A value that is the person's own, such as a length, is completed by nothing. The library's own completer
        # for that would hide the option too.
        own = files if called.startswith(("FILE", "IMAGE")) or called.endswith(".toml") else _nothing
        action.completer = named.get(called, own)  # type: ignore[attr-defined]
    return CompletionFinder(parser, always_complete_options=False)


def _nothing(prefix: str, **given: object) -> list[str]:
    return []


def _values(parser: argparse.ArgumentParser) -> Iterable[argparse.Action]:
    """Every argument that takes a value of the person's, of ``parser`` and of its commands."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield from _values(command)
        elif action.metavar is not None and action.choices is None:
            yield action


def _or_files(names: Callable[..., Iterable[str]], files: Callable[..., Iterable[str]]) -> Callable[..., list[str]]:
    """Names first; files where no name begins so, or where a path was begun."""

    def found(prefix: str, **given: object) -> list[str]:
        fitting = [] if "/" in prefix else [name for name in names(prefix, **given) if name.startswith(prefix)]
        return fitting or list(files(prefix, **given))

    return found


def _saws(prefix: str, parsed_args: argparse.Namespace, **given: object) -> list[str]:
    """The saws of the till by the names of their files; after `retire --back` the retired ones."""
    from session.till.known_saws import known_saws
    from session.till.till_folder import Till, till_folder

    try:
        saws = known_saws([Till(till_folder(parsed_args.till))])
    except (ValueError, OSError):
        return []
    back = bool(getattr(parsed_args, "back", False))
    retires = parsed_args.command == "retire"
    return [saw.recipe.stem if saw.recipe else saw.slug for saw in saws if not retires or saw.retired is back]


def _recipes(prefix: str, parsed_args: argparse.Namespace, **given: Mapping[str, object]) -> list[str]:
    """The saws of the till that a sharpening may be started of, then the supplied ones."""
    from session.files.supplied import supplied_recipes
    from session.till.till_folder import Till, till_folder

    try:
        own = [path.stem for path in Till(till_folder(parsed_args.till)).saws()]
    except (ValueError, OSError):
        own = []
    return list(dict.fromkeys([*own, *(path.stem for path in supplied_recipes())]))
