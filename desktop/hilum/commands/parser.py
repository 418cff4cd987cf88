"""Parser: the verbs with their options; a mistake is told in one line and names the help that explains it."""

from argparse import SUPPRESS, Action, ArgumentParser, HelpFormatter, Namespace, _SubParsersAction
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from typing import Any, NoReturn

from hilum import __version__
from hilum.commands import figures
from hilum.commands.answer import Answer
from hilum.commands.desk import Desk
from hilum.commands.terminal import width
from hilum.errors import BadInput

Verb = Callable[[Namespace, Desk], Answer]


class CommandParser(ArgumentParser):
    """A parser whose mistakes are the keeper's to mend, told without the whole usage."""

    def error(self, message: str) -> NoReturn:
        """Refuse what was typed."""
        raise BadInput(
            f"{message[:1].upper()}{message[1:].rstrip('.')}. How it is written: {self.prog} --help"
        )

    def _check_value(self, action: Action, value: Any) -> None:
        if isinstance(action, _SubParsersAction) and value not in action.choices:
            known = list(action.choices)
            near = get_close_matches(str(value), known, n=1)
            hint = f"Is {near[0]} meant?" if near else f"There are: {', '.join(known)}."
            raise BadInput(f"“{value}” is nothing that {self.prog} can do. {hint}")
        super()._check_value(action, value)

    def understood(self, arguments: Sequence[str]) -> Namespace:
        """Take words apart; what no option knows is refused with the help of the verb it was typed after."""
        asked, left = self.parse_known_args(list(arguments))
        if left:
            raise BadInput(f"Not understood: {' '.join(left)}. How it is written: {asked.prog} --help")
        return asked


class WideHelp(HelpFormatter):
    """Help with room for the names of options."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, max_help_position=30, width=width())


def shared_options() -> CommandParser:
    """Give the options that stand before or after a verb alike."""
    shared = CommandParser(add_help=False, allow_abbrev=False)
    # Without SUPPRESS a verb's own default would wipe out what was said before the verb.
    shared.add_argument(
        "--catalogue", metavar="WHERE", type=figures.words, default=SUPPRESS,
        help="the catalogue: a file or a database address (else HILUM_CATALOGUE, else the user's data folder)",
    )  # fmt: skip
    shared.add_argument(
        "--json",
        action="store_true",
        default=SUPPRESS,
        help="answer with one JSON document on standard output",
    )
    return shared


class Verbs:
    """The place where the modules of this room put their verbs."""

    def __init__(self, actions: "_SubParsersAction[CommandParser]") -> None:
        self._actions = actions

    def add(self, name: str, run: Verb | None, words: str, more: str = "") -> CommandParser:
        """Add one verb with the function that does it; `words` is its line in the list, `more` goes below."""
        parser = self._actions.add_parser(
            name, parents=[shared_options()], help=words, description=f"{words[:1].upper()}{words[1:]}.",
            epilog=more, formatter_class=WideHelp, allow_abbrev=False,
        )  # fmt: skip
        parser.set_defaults(prog=parser.prog)
        if run is not None:
            parser.set_defaults(run=run)
        return parser

    @classmethod
    def below(cls, parser: ArgumentParser, metavar: str) -> "Verbs":
        """Open a set of words of which one must follow."""
        actions = parser.add_subparsers(metavar=metavar, required=True, parser_class=CommandParser)
        return cls(actions)


def _verb_modules() -> tuple[Any, ...]:
    """Give the modules of verbs in the order in which help lists them."""
    from hilum.commands import (
        counter,
        day,
        dishes,
        forecast,
        germination,
        holds,
        intake,
        joining,
        keeping,
        labels,
        lot_changes,
        lots,
        past_work,
        preparing,
        print_book,
        reckon,
        regrowing,
        searches,
        season,
        stocktake,
        store,
        store_air,
    )

    return (
        keeping,
        intake,
        lots,
        searches,
        lot_changes,
        past_work,
        joining,
        preparing,
        dishes,
        germination,
        labels,
        season,
        print_book,
        counter,
        regrowing,
        holds,
        store,
        store_air,
        stocktake,
        day,
        forecast,
        reckon,
    )


def whole_parser() -> CommandParser:
    """Put all verbs together."""
    parser = CommandParser(
        prog="hilum",
        description="Catalogue and label bench for a community seed library. Without a verb the window opens.",
        epilog="Exit codes: 0 done, 1 failed, 2 bad input; on 1 and 2 nothing has changed.",
        parents=[shared_options()],
        formatter_class=WideHelp,
        allow_abbrev=False,
    )
    parser.set_defaults(prog="hilum")
    parser.add_argument("--version", action="version", version=f"hilum {__version__}")
    parser.add_argument("--demo", action="store_true", help="open the window on the invented demo library")
    parser.add_argument(
        "--no-screen", action="store_true",
        help="without a window: list what is due in the demo library and write a sheet of packet labels here",
    )  # fmt: skip
    actions = parser.add_subparsers(title="verbs", metavar="VERB", parser_class=CommandParser)
    verbs = Verbs(actions)
    for module in _verb_modules():
        module.add_verbs(verbs)
    return parser


def add_day(parser: ArgumentParser, words: str = "the day it was done (today if left out)") -> None:
    """Add the option that says on which day something was done or is asked for."""
    parser.add_argument("--on", metavar="DATE", type=figures.day, help=words)


def add_lot(parser: ArgumentParser) -> None:
    """Add the lot number that a verb works on."""
    parser.add_argument("lot", metavar="LOT", type=figures.words, help="a lot number, typed or scanned")
