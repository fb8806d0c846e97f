"""The main job on the sample recording, from an empty folder to a report."""

import atexit
import shutil
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from tempfile import gettempdir, mkdtemp
from typing import Any

from reviewer import casefile, settings
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.documents import import_marks
from reviewer.actions.opening import start_case
from reviewer.actions.outgoing import refuse_no_folder
from reviewer.actions.reporting import write_report
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

SAMPLE = "square-on"
_PASSING = "reviewer-passing-demo-"
"""What folders of demos begin with that nobody is to keep."""
_KEPT = "kept"
"""In such a folder this is held by the process that made it, as a case is by its writer."""


def run_demo(folder: Path) -> dict[str, Any]:
    """Copy the sample clip, begin a case on it, bring in its marks, write the report: ``reviewer.demo/1``."""
    clip = folder / f"{SAMPLE}.mp4"
    case = folder / f"{SAMPLE}.case"
    if case.exists():
        raise AuditError(
            Problem(
                "case-exists",
                str(case),
                message("The demo was already made here, and a case is never overwritten."),
                message("Name another folder with -o, or delete this one yourself."),
            )
        )
    refuse_no_folder(folder)
    with _demo_case(case, clip) as audit:
        report = write_report(audit, folder / "report")
    return {
        "format": "reviewer.demo/1",
        "case": str(case),
        "recording": str(clip),
        "report": str(folder / "report" / "report.html"),
        "final_score": report["final_score"],
    }


def fresh_demo() -> Path:
    """The demo's case made anew in a folder of its own for passing things: nothing done to it lasts.

    The folder goes with this process; those of processes that were killed go now.
    """
    for left in _left_behind():
        shutil.rmtree(left, ignore_errors=True)
    folder = Path(mkdtemp(prefix=_PASSING))
    atexit.register(_forget, folder, casefile.Hold(folder / _KEPT, "A"))
    case = folder / f"{SAMPLE}.case"
    _demo_case(case, folder / f"{SAMPLE}.mp4").close()
    return case


def _forget(folder: Path, hold: casefile.Hold) -> None:
    hold.release()
    shutil.rmtree(folder, ignore_errors=True)


def _left_behind() -> Iterator[Path]:
    """Folders made by `fresh_demo` that belong to no process any more, and whose case nobody writes to."""
    for mark in Path(gettempdir()).glob(f"{_PASSING}*/{_KEPT}.writing"):
        folder = mark.parent
        if not folder.is_symlink() and all(_free(folder / name) for name in (f"{SAMPLE}.case", _KEPT)):
            yield folder


def _free(place: Path) -> bool:
    """Whether no process holds it; nothing that somebody else owns is free."""
    with ExitStack() as after:
        try:
            after.callback(casefile.Hold(place, "A").release)
        except casefile.CaseError:
            return False
        return True


def _demo_case(case: Path, clip: Path) -> Audit:
    """A case with the sample's marks, and the sample beside it."""
    clip.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(settings.shipped("sample_clips") / clip.name, clip)
    audit = start_case(case, author="A", athlete_code="G-07", consent="given", recording=clip)
    import_marks(audit, settings.shipped("annotations") / f"{SAMPLE}.marks.json")
    return audit
