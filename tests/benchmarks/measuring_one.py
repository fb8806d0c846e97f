"""One measurement in a process of its own, so that none sees another's memory, and a hang ends alone.

``python -m tests.benchmarks.measuring_one ROW ABOUT FOLDER SCRATCH [quick]``: a figure a line, as JSON.
"""

import json
import sys
from collections.abc import Callable, Iterator
from dataclasses import asdict
from importlib import import_module
from pathlib import Path

from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure


def main(row: str, about: str, folder: str, scratch: str, *quick: str) -> None:
    """Measure and print each figure as soon as it is there."""
    setting = Setting(Path(folder), Path(scratch), bool(quick))
    measure: Callable[[Setting, str], Iterator[Figure]] = import_module(f"tests.benchmarks.{row}").figures
    for figure in measure(setting, about):
        print(json.dumps(asdict(figure)), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
