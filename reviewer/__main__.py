"""The command ``reviewer``: joins the two doors, and lets no traceback out."""

import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path


def main() -> None:
    """Run the command line; an unexpected fault prints one line and the log's place."""
    try:
        _run()
    except KeyboardInterrupt:  # also while what it needs is still being loaded
        print("Stopped.", file=sys.stderr)
        sys.exit(2)


def _run() -> None:
    seen = _first_look(sys.argv[1:])
    # What a picture does not need is loaded once it is on the screen.
    from reviewer import cli, settings

    settings.start_log()
    try:
        sys.exit(cli.run(_open_desk))
    except Exception as fault:
        place = settings.record_fault(fault)
        print(
            f"An unexpected fault ({type(fault).__name__}); nothing more was written. Log: {place}",
            file=sys.stderr,
        )
        sys.exit(2)
    finally:
        del seen


def _first_look(arguments: Sequence[str]) -> object:
    """The first picture on the screen, where a window for a recording is asked for; to be held.

    Whatever goes wrong here, the desk is opened all the same and says it better.
    """
    with suppress(Exception):
        if arguments[:1] == ["desk"] and any(Path(word).is_file() for word in arguments[1:]):
            from reviewer.desk.errors import has_screen

            if has_screen():
                from reviewer.desk.firstlook import first_look

                return first_look(arguments[1:])
    return None


def _open_desk(case: Path | None, recording: Path | None, author: str) -> int:
    # Qt is loaded only by the command that shows a window.
    from reviewer.desk import open_desk

    return open_desk(case, recording, author=author)


if __name__ == "__main__":
    main()
