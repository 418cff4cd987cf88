"""Shell: one call of the command line from its words to its exit code."""

import logging
from argparse import Namespace
from collections.abc import Callable, Sequence
from datetime import datetime
from logging.handlers import RotatingFileHandler

from hilum import __version__
from hilum.commands.answer import BAD_INPUT, DONE, FAILED, Answer
from hilum.commands.desk import Desk, local_time, named_place
from hilum.commands.parser import whole_parser
from hilum.commands.terminal import as_document, put, ready_streams, say, shortened
from hilum.errors import BadInput, KeeperError

OpenWindow = Callable[[str | None, bool], int]
LARGEST_LOG_BYTES = 1_000_000
LONGEST_FAULT = 120


def run(
    arguments: Sequence[str], *, open_window: OpenWindow, clock: Callable[[], datetime] = local_time
) -> int:
    """Do what was typed after `hilum`, and give the exit code."""
    ready_streams()
    try:
        return _run(arguments, open_window, Desk(clock))
    except BadInput as mistake:
        say(str(mistake))
        return BAD_INPUT
    except KeeperError as trouble:
        say(str(trouble))
        return FAILED
    except KeyboardInterrupt:
        say("Stopped.")
        return FAILED
    except Exception as fault:
        say(_logged(fault, clock()))
        return FAILED


def _run(arguments: Sequence[str], open_window: OpenWindow, desk: Desk) -> int:
    try:
        asked = whole_parser().understood(arguments)
    except SystemExit as ending:  # argparse has shown help or the version
        put(())
        return ending.code if isinstance(ending.code, int) else DONE
    verb = getattr(asked, "run", None)
    if verb is None:
        return _without_verb(asked, open_window, desk)
    if asked.demo or asked.no_screen:
        raise BadInput(
            "--demo and --no-screen stand alone, without a verb. A demo library is made by: hilum new WHERE --demo"
        )
    return _told(verb(asked, desk), as_json=getattr(asked, "json", False))


def _without_verb(asked: Namespace, open_window: OpenWindow, desk: Desk) -> int:
    if asked.no_screen:
        from hilum.commands.without_screen import main_job

        return _told(
            main_job(desk, None if asked.demo else getattr(asked, "catalogue", None)),
            as_json=getattr(asked, "json", False),
        )
    if getattr(asked, "json", False):
        raise BadInput("--json belongs to a verb. The verbs are listed by: hilum --help")
    return open_window(named_place(asked), asked.demo)


def _told(answer: Answer, *, as_json: bool) -> int:
    try:
        put([as_document(answer.document)] if as_json else answer.lines)
    except OSError as error:
        lost = f"The answer could not be written: {error.strerror or error}."
        if not answer.changed:
            raise KeeperError(lost) from error
        say(f"What was asked is done. {lost}")
    if answer.trouble:
        say(answer.trouble)
    return answer.exit_code


def _logged(fault: Exception, at: datetime) -> str:
    """Write a fault of the program to the log, and give the line that says where."""
    from hilum.benches.folders import log_file

    file = log_file()
    what = shortened(" ".join(f"{type(fault).__name__}: {fault}".split()), LONGEST_FAULT)
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(
            file, maxBytes=LARGEST_LOG_BYTES, backupCount=2, encoding="utf-8", errors="backslashreplace"
        )
    except OSError as error:
        return f"A fault in Hilum, not yours ({what}). It could not be written to {file}: {error.strerror}."
    handler.setFormatter(logging.Formatter("%(message)s"))
    message = f"{at.isoformat(timespec='seconds')} hilum {__version__}"
    handler.emit(
        logging.LogRecord(
            "hilum", logging.ERROR, __file__, 0, message, None, (type(fault), fault, fault.__traceback__)
        )
    )
    handler.close()
    return f"A fault in Hilum, not yours ({what}). All of it is in {file}."
