"""The main job on the sample recording, from an empty folder to a report."""

import shutil
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from reviewer import settings
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.documents import import_marks
from reviewer.actions.opening import start_case
from reviewer.actions.outgoing import refuse_no_folder
from reviewer.actions.reporting import write_report
from reviewer.terms.problems import Problem

SAMPLE = "square-on"


def run_demo(folder: Path) -> dict[str, Any]:
    """Copy the sample clip, begin a case on it, bring in its marks, write the report: ``reviewer.demo/1``."""
    clip = folder / f"{SAMPLE}.mp4"
    case = folder / f"{SAMPLE}.case"
    if case.exists():
        raise AuditError(
            Problem(
                "case-exists",
                str(case),
                "The demo was already made here, and a case is never overwritten.",
                "Name another folder with -o, or delete this one yourself.",
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
    """The demo's case made anew in a folder of its own for passing things: nothing done to it lasts."""
    folder = Path(mkdtemp(prefix="reviewer-demo-"))
    case = folder / f"{SAMPLE}.case"
    _demo_case(case, folder / f"{SAMPLE}.mp4").close()
    return case


def _demo_case(case: Path, clip: Path) -> Audit:
    """A case with the sample's marks, and the sample beside it."""
    clip.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(settings.shipped("sample_clips") / clip.name, clip)
    audit = start_case(case, author="A", athlete_code="G-07", consent="given", recording=clip)
    import_marks(audit, settings.shipped("annotations") / f"{SAMPLE}.marks.json")
    return audit
