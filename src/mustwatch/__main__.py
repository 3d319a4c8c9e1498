"""The program's door: parses the command line, runs the command, and lets no traceback reach a user."""

import errno
import gc
import os
import sys
import warnings
from datetime import datetime

# What is made while starting stays: the collector would look it over a hundred times and find nothing.
gc.set_threshold(50_000)


def main(words: list[str] | None = None) -> int:
    """Runs one command; returns its exit status (0 done, 1 found, 2 bad use, 3 not saved).

    words: the command line, where it is not that of the process.
    """
    if words is not None:
        return _ran(words)
    status = _ran(sys.argv[1:])
    # The process ends: searching all that it read for garbage would take an eighth of its time.
    gc.freeze()
    return status


def _ran(words: list[str]) -> int:
    from mustwatch.commands.context import BAD_USE, Context, Refused, default_cellar
    from mustwatch.commands.parser import parse_arguments

    _open_what_is_closed()
    if not sys.warnoptions:
        # They are for those who write programs, and libraries quote data in them.
        warnings.simplefilter("ignore")
    args = parse_arguments(words)
    context = Context(args.cellar or default_cellar(), args.now, _clock)
    try:
        status = args.run(args, context)
        sys.stdout.flush()
        return status
    except Refused as refused:
        context.err(str(refused))
        return BAD_USE
    except BrokenPipeError:
        # The reader went away (`| head`): nothing to say, and nobody to say it to.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130
    except Exception as error:  # the last resort: one line instead of a traceback
        return _last_resort(context, error)


def _last_resort(context, error: Exception) -> int:
    from mustwatch.ledger.trouble import NotSaved
    from mustwatch.ledger.visible import visible

    if context.saved:
        # On disk all the same: an error status would have it typed in again.
        context.err(visible(f"saved, but the answer could not be given in full: {error}"))
        return _quietly(0)
    if os.environ.get("MUSTWATCH_DEBUG"):
        from mustwatch.commands import door

        door.say_traceback(error)
        return _quietly(2)
    if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EIO) and error.filename is None:
        context.err(f"the answer could not be written: {error.strerror}")
    elif isinstance(error, OSError | ValueError):
        context.err(visible(str(error)))
    else:
        context.err(visible(f"a fault of the program, please report it: {type(error).__name__}: {error}"))
    return _quietly(3 if isinstance(error, NotSaved) else 2)


def _quietly(status: int) -> int:
    """The status, with what could not be written thrown away: the interpreter would complain of it at its end."""
    try:
        sys.stdout.flush()
    except (OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return status


def _open_what_is_closed() -> None:
    """A program started with its output closed finds None there; what it says then goes nowhere."""
    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  open to the end of the program
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115


def _clock() -> datetime:
    return datetime.now().astimezone()


if __name__ == "__main__":
    sys.exit(main())
