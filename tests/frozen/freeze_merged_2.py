"""How the frozen case that says which marks are one was made, once; never again: later versions must open it.

python -m tests.frozen.freeze_merged_2
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

from reviewer.casefile import create_case, merge, open_case
from tests.frozen.freeze_merged import RECORDING, fault

HERE = Path(__file__).parent


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 4, 22, 9, 0, tzinfo=UTC), count()

    def clock() -> datetime:
        return start + timedelta(seconds=next(seconds))

    with TemporaryDirectory() as made:
        paths = [Path(made) / f"{author}.case" for author in "AB"]
        for path, degrees, amount in zip(paths, ("-20", "-52"), ("0.100", "0.300"), strict=True):
            with create_case(path, path.stem, "G-10", "given", clock) as case:
                case.append("recording-cited", RECORDING)
                angle = {"by": "eye", "deg": degrees, "u_deg": None, "verdict": None, "reading": None}
                cast = {"id": "m1", "kind": "element", "code": "cast", "start": 90, "angle": angle}
                case.append("mark-placed", {"mark": cast})
                case.append("mark-placed", fault("m2", "m1", amount, 120))
        said = {"same": [["m1", "B.m1"]], "judges": {"m2": "A", "B.m2": "B"}}
        with open_case(paths[0], None) as first, open_case(paths[1], None) as second:
            merge(first, second, HERE / "merged.v2.case", "C", clock, lambda _: said)


if __name__ == "__main__":
    main()
