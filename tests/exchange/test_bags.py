"""Bags that any BagIt tool validates, and damage of every kind that is named.

Sources: RFC 8493 (BagIt 1.0), by the validator of the Library of Congress (`bagit`).
"""

import os
import stat
import struct
import zipfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import bagit
import pytest

from reviewer.exchange import check_bag, is_bag, list_files, unpack
from reviewer.exchange.unpacking import MOST_FILES
from reviewer.terms.problems import DocumentError

FILES = {"data/routine.case": b"case", "data/report/report.html": b"<p>page</p>", "data/leer.txt": b""}
ALL = (*FILES, "bag-info.txt", "bagit.txt", "manifest-sha256.txt", "tagmanifest-sha256.txt")


@pytest.fixture
def bag(tmp_path: Path) -> Path:
    folder = tmp_path / "bag"
    for name, content in FILES.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    list_files(folder, {"Bag-Software-Agent": "reviewer"})
    return folder


def named(folder: Path) -> set[str]:
    return {fault.where for fault in check_bag(folder)}


def validates(folder: Path) -> bool:
    """What the Library of Congress' validator says (RFC 8493, section 3)."""
    return bool(bagit.Bag(str(folder)).is_valid())


def test_a_bag_is_one_by_rfc_8493(bag: Path) -> None:
    assert validates(bag)
    assert bagit.Bag(str(bag)).version_info == (1, 0)
    assert bagit.Bag(str(bag)).info["Payload-Oxum"] == "15.3"  # octets and files, RFC 8493, 2.2.2
    assert named(bag) == set()
    assert is_bag(bag)


def test_a_bag_made_by_another_tool_passes_but_for_its_older_declaration(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("a")
    bagit.make_bag(str(tmp_path), checksums=["sha256"])
    assert named(tmp_path) == {"bagit.txt"}  # it declares version 0.97


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("bit", [1, 32])
def test_one_byte_changed_anywhere_in_any_file_is_noticed(bag: Path, name: str, bit: int) -> None:
    whole = (bag / name).read_bytes() or b"\0"
    for place in range(len(whole)):
        changed = bytearray(whole)
        changed[place] ^= bit
        (bag / name).write_bytes(changed)
        assert name == "tagmanifest-sha256.txt" or any(where.startswith(name) for where in named(bag))
        assert named(bag), f"byte {place}"


@pytest.mark.parametrize("name", ["manifest-sha256.txt", "tagmanifest-sha256.txt"])
def test_a_manifest_that_lost_its_last_byte_is_named(bag: Path, name: str) -> None:
    (bag / name).write_bytes((bag / name).read_bytes()[:-1])
    assert any(where.startswith(name) for where in named(bag))


@pytest.mark.parametrize("name", ALL)
def test_a_file_that_was_removed_is_named(bag: Path, name: str) -> None:
    (bag / name).unlink()
    assert name in named(bag)


@pytest.mark.parametrize("name", ["data/more.txt", "data/report/.hidden", "more.txt", "manifest-md5.txt"])
def test_a_file_that_was_added_is_named(bag: Path, name: str) -> None:
    (bag / name).write_text("x")
    assert named(bag) >= {name}


@pytest.mark.parametrize(
    "path",
    [
        "../secret", "data/../../secret", "/etc/passwd", "data/./routine.case", "data//routine.case", "~/x",
        "data\\..\\x", "C:/x", "data/%0A", "bagit.txt", "data/",
    ],
)  # fmt: skip
def test_a_path_that_leads_astray_is_named_by_its_line_and_never_opened(bag: Path, path: str) -> None:
    (bag.parent / "secret").write_text("x")
    manifest = bag / "manifest-sha256.txt"
    manifest.write_text(manifest.read_text() + f"{'0' * 64}  {path}\n")
    assert "manifest-sha256.txt: line 4" in named(bag)
    faults = {fault.where: fault for fault in check_bag(bag)}
    assert "2d711642" not in str(faults["manifest-sha256.txt: line 4"])  # SHA-256 of "x"


@pytest.mark.parametrize("line", ["", "no digest", "0" * 63 + "  data/a", "data/leer.txt"])
def test_a_line_of_a_manifest_that_is_none_is_named(bag: Path, line: str) -> None:
    manifest = bag / "manifest-sha256.txt"
    manifest.write_text(f"{line}\n{manifest.read_text()}")
    assert "manifest-sha256.txt: line 1" in named(bag)


def test_a_file_that_is_listed_twice_is_named(bag: Path) -> None:
    manifest = bag / "manifest-sha256.txt"
    manifest.write_text(manifest.read_text() * 2)
    assert "manifest-sha256.txt: line 6" in named(bag)


@pytest.mark.parametrize("target", ["../secret", "routine.case", ".", "nowhere"])
def test_a_link_is_named_and_never_followed(bag: Path, target: str) -> None:
    (bag.parent / "secret").write_bytes(b"")
    (bag / "data" / "leer.txt").unlink()
    (bag / "data" / "leer.txt").symlink_to(target)
    assert "data/leer.txt" in named(bag)


def test_a_folder_that_is_a_link_is_not_entered(bag: Path) -> None:
    (bag / "data" / "all").symlink_to("/")
    assert named(bag) == {"data/all"}


def test_what_is_no_plain_file_is_named(bag: Path) -> None:
    os.mkfifo(bag / "data" / "pipe")
    assert named(bag) == {"data/pipe"}


@pytest.mark.parametrize("name", [b"\xff\xfe", b"a\x1b[31mred", "rechts\u202elinks".encode(), b"line\nend"])
def test_a_file_whose_name_may_do_harm_is_named_in_plain_signs(bag: Path, name: bytes) -> None:
    (bag / "data" / os.fsdecode(name)).write_text("x")
    (where,) = named(bag)
    assert where.startswith("data/")
    assert where.encode().decode().isprintable()


def test_folders_within_folders_are_looked_through_however_deep(bag: Path) -> None:
    place = bag / "data"
    for _ in range(1200):
        place /= "a"
        os.mkdir(place)
    (place / "b").write_text("x")
    found = named(bag)
    (place / "b").unlink()
    while place != bag / "data":  # pytest's own clearing does not reach that deep
        place.rmdir()
        place = place.parent
    assert found == {"data/" + "a/" * 1200 + "b"}


def test_files_to_be_loaded_from_elsewhere_are_not_accepted(bag: Path) -> None:
    (bag / "fetch.txt").write_text("http://nowhere.invalid/x 1 data/x\n")
    assert "fetch.txt" in named(bag)


def test_a_count_that_does_not_add_up_is_named_although_all_digests_do(bag: Path) -> None:
    info, tags = bag / "bag-info.txt", bag / "tagmanifest-sha256.txt"
    old = bagit.Bag(str(bag)).entries["bag-info.txt"]["sha256"]
    info.write_text(info.read_text().replace("15.3", "15.4"))
    tags.write_text(tags.read_text().replace(old, sha256(info.read_bytes()).hexdigest()))
    assert named(bag) == {"bag-info.txt: Payload-Oxum"}


def packed(bag: Path, change: Callable[[zipfile.ZipFile], None] = lambda packed: None) -> Path:
    archive = bag.with_suffix(".zip")
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as made:
        for path in sorted(one for one in bag.rglob("*") if one.is_file()):
            made.write(path, f"bag/{path.relative_to(bag)}")
        change(made)
    return archive


def test_a_bag_in_a_zip_file_is_unpacked_whole(bag: Path, tmp_path: Path) -> None:
    (tmp_path / "into").mkdir()
    assert check_bag(unpack(packed(bag), tmp_path / "into")) == ()


def a_link(made: zipfile.ZipFile) -> None:
    entry = zipfile.ZipInfo("bag/link")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    made.writestr(entry, "/etc/passwd")


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(
    "change",
    [
        lambda made: made.writestr("../outside", "x"),
        lambda made: made.writestr("bag/../../outside", "x"),
        lambda made: made.writestr("/outside", "x"),
        lambda made: made.writestr("bag\\..\\..\\outside", "x"),
        lambda made: made.writestr("C:outside", "x"),
        lambda made: made.writestr("bag/data/routine.case", "twice"),
        lambda made: made.writestr("BAG/data/routine.case", "twice on some systems"),
        lambda made: made.writestr("bag/bomb", bytes(200_000_000)),
        lambda made: [made.writestr(f"bag/{number}", "") for number in range(MOST_FILES)],
        a_link,
    ],
    ids=["up", "up-within", "from-the-root", "backslash", "drive", "twice", "case", "bomb", "many", "link"],
)
def test_an_archive_made_to_do_harm_is_refused(
    bag: Path, tmp_path: Path, change: Callable[[zipfile.ZipFile], None]
) -> None:
    into = tmp_path / "deep" / "into"
    into.mkdir(parents=True)
    with pytest.raises(DocumentError) as refused:
        unpack(packed(bag, change), into)
    assert refused.value.problems[0].code == "unsafe-archive"
    assert not (tmp_path / "outside").exists()
    assert not list(into.iterdir())


def test_an_archive_that_unfolds_to_more_than_it_says_is_refused(bag: Path, tmp_path: Path) -> None:
    archive = packed(bag, lambda made: made.writestr("bag/long", bytes(100_000)))
    content = archive.read_bytes()
    said = struct.pack("<I", 100_000)
    archive.write_bytes(content.replace(said, struct.pack("<I", 10)))
    (tmp_path / "into").mkdir()
    with pytest.raises(DocumentError):
        unpack(archive, tmp_path / "into")


@pytest.mark.parametrize("cut", [30, 200, -30])
def test_an_archive_that_is_cut_off_or_damaged_is_refused(bag: Path, tmp_path: Path, cut: int) -> None:
    archive = packed(bag)
    archive.write_bytes(archive.read_bytes()[:cut])
    (tmp_path / "into").mkdir()
    with pytest.raises(DocumentError):
        unpack(archive, tmp_path / "into")
