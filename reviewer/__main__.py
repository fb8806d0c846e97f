"""The command ``reviewer``: joins the two doors, and lets no traceback out."""

import sys
from pathlib import Path

from reviewer import cli, settings


def main() -> None:
    """Run the command line; an unexpected fault prints one line and the log's place."""
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


def _open_desk(case: Path | None, recording: Path | None, author: str) -> int:
    # Qt is loaded only by the command that shows a window.
    from reviewer.desk import open_desk

    return open_desk(case, recording, author=author)


if __name__ == "__main__":
    main()
