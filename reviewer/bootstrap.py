"""Make ``.venv``, install the project and run it, with nothing but the standard library.

``python3 reviewer/bootstrap.py demo`` does the main job on the sample recording;
``python3 reviewer/bootstrap.py test`` runs the checks and the tests.
"""

import argparse
import importlib.util
import os
import shutil
import subprocess
import sys
import venv
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
TESTED = ROOT / ".ci" / "tested-versions.txt"
IMPORTS = ["libglib2.0-0", "libgl1", "libegl1", "libdbus-1-3", "libfontconfig1", "libxkbcommon0"]
WINDOW = [
    "libxkbcommon-x11-0",
    "libxcb-cursor0",
    "libxcb-icccm4",
    "libxcb-keysyms1",
    "libxcb-randr0",
    "libxcb-shape0",
    "libxcb-xkb1",
]
TESTS = ["xvfb", "xauth", "ffmpeg"]
OPTIONAL = (["chromium"], ["at-spi2-core", "dbus"])
"""For tests that look at a page, and that hear the desk as screen readers do; without, they are skipped."""


def main(arguments: Sequence[str]) -> int:
    """Prepare the machine, then run the demo or the tests; returns the exit code."""
    asked, rest = _parser().parse_known_args(arguments)
    if sys.version_info < (3, 11):  # noqa: UP036 - this file runs before the project's own bound is checked
        print(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}.", file=sys.stderr)
        return 2
    try:
        _system_packages(IMPORTS + WINDOW + (TESTS if asked.what == "test" else []))
        if asked.what == "test":
            for some in OPTIONAL:
                _system_packages(some, needed=False)
        _environment(extra="[test]" if asked.what == "test" else "")
        return _demo(rest) if asked.what == "demo" else _test(rest)
    except subprocess.CalledProcessError as fault:
        print(f"This step failed: {' '.join(map(str, fault.cmd))}", file=sys.stderr)
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="bootstrap.py", description=__doc__)
    parser.add_argument("what", choices=["demo", "test"], help="demo takes -o FOLDER and --no-window")
    return parser


def _system_packages(wanted: list[str], *, needed: bool = True) -> None:
    """On Debian and Ubuntu, install what is missing as root, or print the one line that does.

    What is not ``needed`` may fail to install.
    """
    if shutil.which("dpkg-query") is None:
        return
    missing = [name for name in wanted if not _installed(name)]
    if importlib.util.find_spec("ensurepip") is None:
        missing.append("python3-venv")
    if not missing:
        return
    line = f"apt-get install -y --no-install-recommends {' '.join(missing)}"
    if os.geteuid() != 0:
        print(f"If a library turns out to be missing, run: sudo {line}", file=sys.stderr)
        return
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(["apt-get", "update", "-qq"], check=needed, env=quiet, stdout=subprocess.DEVNULL)
    hidden = None if needed else subprocess.DEVNULL
    subprocess.run(line.split(), check=needed, env=quiet, stdout=subprocess.DEVNULL, stderr=hidden)


def _installed(name: str) -> bool:
    """Whether a package is there, also under the name it got in the 64-bit time change."""
    for known in (name, f"{name}t64"):
        asked = subprocess.run(["dpkg-query", "-W", "-f=${Status}", known], capture_output=True, text=True)
        if "install ok installed" in asked.stdout:
            return True
    return False


def _environment(extra: str) -> None:
    if not _python().exists():
        venv.create(VENV, with_pip=True)
    tested = ["-c", str(TESTED)] if TESTED.is_file() else []
    quiet = ["--quiet", "--disable-pip-version-check"]
    subprocess.run([_python(), "-m", "pip", "install", *quiet, *tested, "-e", f"{ROOT}{extra}"], check=True)


def _python() -> Path:
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _demo(rest: Sequence[str]) -> int:
    return subprocess.run([_python(), "-m", "reviewer", "demo", *rest]).returncode


def _test(rest: Sequence[str]) -> int:
    """Style, types and layers first, since they are quick; then the tests."""
    lint_imports = str(_python().with_name("lint-imports"))
    checks: list[list[str | Path]] = [
        [_python(), "-m", "ruff", "check", "."],
        [_python(), "-m", "ruff", "format", "--check", "."],
        [_python(), "-m", "mypy"],
        [lint_imports],
        [_python(), "-m", "pytest", *rest],
    ]
    codes = [subprocess.run(check, cwd=ROOT).returncode for check in checks]
    return next((code for code in codes if code), 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
