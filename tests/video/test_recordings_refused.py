"""What is not a recording is refused with its place and what mends it; and the fingerprint of what is."""

from collections.abc import Callable
from pathlib import Path

import pytest

from reviewer.video import VideoError, fingerprint, open_recording

Clip = Callable[[str], Path]


def refusal(path: Path) -> str:
    with pytest.raises(VideoError) as caught:
        open_recording(path)
    (problem,) = caught.value.problems
    assert str(path) in problem.where
    assert str(problem.message)
    assert str(problem.remedy)
    return problem.code


def written(folder: Path, data: bytes, name: str = "routine.mp4") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    assert refusal(tmp_path / "routine.mp4") == "recording-missing"


def test_an_empty_file(tmp_path: Path) -> None:
    assert refusal(written(tmp_path, b"")) == "recording-empty"


def test_a_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path) == "recording-is-a-folder"


@pytest.mark.parametrize(
    "data", [b"A letter to the judges.\n" * 99, bytes(5000), b"\x89PNG\r\n\x1a\n" + bytes(99)]
)
def test_a_file_that_is_no_video(tmp_path: Path, data: bytes) -> None:
    assert refusal(written(tmp_path, data)) == "not-a-recording"


def test_sound_without_pictures(clip: Clip) -> None:
    assert refusal(clip("sound.m4a")) == "no-video-stream"


def test_an_mp4_cut_off_before_its_index(clip: Clip, tmp_path: Path) -> None:
    assert refusal(written(tmp_path, clip("long.mp4").read_bytes()[:20_000])) == "recording-cut-off"


def test_a_container_whose_pictures_do_not_decode(clip: Clip, tmp_path: Path) -> None:
    data = bytearray(clip("long.mp4").read_bytes())
    start = data.index(b"mdat") + 4
    end = data.index(b"moov") - 4
    data[start:end] = bytes(end - start)
    assert refusal(written(tmp_path, bytes(data))) == "no-frames"


@pytest.mark.parametrize(
    "script",
    [
        "#EXTM3U\n#EXT-X-TARGETDURATION:9\n#EXTINF:3,\n{clip}\n#EXT-X-ENDLIST\n",
        "ffconcat version 1.0\nfile '{clip}'\n",
        '<?xml version="1.0"?>\n<MPD xmlns="urn:mpeg:dash:schema:mpd:2011" type="static"></MPD>\n',
    ],
)
@pytest.mark.parametrize("name", ["routine.mp4", "routine.m3u8", "routine.ffconcat"])
def test_a_playlist_under_any_name(clip: Clip, tmp_path: Path, script: str, name: str) -> None:
    path = written(tmp_path, script.format(clip=clip("long.mp4")).encode(), name)
    assert refusal(path) == "recording-is-a-playlist"


def test_a_name_that_looks_like_an_address_is_only_a_name(clip: Clip, tmp_path: Path) -> None:
    path = written(tmp_path, clip("long.mp4").read_bytes(), "concat:%03d|routine.mp4")
    with open_recording(path) as recording:
        assert len(recording.facts.pts) == 90


@pytest.mark.parametrize(
    ("data", "digest"),
    [
        (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
        (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    ],
)
def test_a_fingerprint_is_sha_256(tmp_path: Path, data: bytes, digest: str) -> None:
    """Vectors of FIPS 180-4, as NIST's example values give them."""
    assert fingerprint(written(tmp_path, data)) == digest


def test_a_fingerprint_tells_its_progress(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    fingerprint(written(tmp_path, bytes(3_000_000)), lambda done, size: told.append((done, size)))
    assert told[-1] == (3_000_000, 3_000_000)
    assert told == sorted(told)


def test_no_fingerprint_of_nothing(tmp_path: Path) -> None:
    with pytest.raises(VideoError):
        fingerprint(tmp_path / "gone.mp4")
