"""A case packed, signed and sent: derived again elsewhere, and every damage on the way named."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import bagit
import pytest

from reviewer import actions
from reviewer.exchange import list_files
from reviewer.terms.canonical import readable

DATE = "2026-11-26"


def run(*words: str | Path, **more: Any) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "reviewer", *map(str, words)]
    found = subprocess.run(command, capture_output=True, text=True, timeout=120, **more)
    assert "Traceback" not in found.stderr + found.stdout
    return found


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bag with its recording, signed; all that it was made from is gone."""
    folder = tmp_path_factory.mktemp("sent")
    demo = folder / "demo"
    actions.run_demo(demo)
    case, recording = demo / "square-on.case", demo / "square-on.mp4"
    with actions.open_case(case, author="A") as audit:
        note = audit.case.keep_text("free text about somebody")
        audit.case.append("note-written", {"sha256": note, "at": None})
    named = sqlite3.connect(case)  # as cases of the first version kept names
    named.execute("INSERT INTO people VALUES ('G-1', 'Somebody''s Name')")
    named.commit()
    named.close()
    assert run("key", folder / "a.pem").returncode == 0
    actions.make_key(folder / "b.pem")
    with actions.open_case(case, author=None, recording=recording) as audit:
        wanted = tuple(audit.recording_paths)
        actions.pack_case(audit, folder / "again", use="inquiry", today=DATE, recordings=wanted)
    assert run("pack", case, "-o", folder / "bag", "--recording", recording).returncode == 0
    assert run("sign", folder / "bag", "--key", folder / "a.pem").returncode == 0
    shutil.rmtree(demo)
    return folder


@pytest.fixture
def bag(sent: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(sent / "bag", tmp_path / "elsewhere" / "bag"))


def differences(bag: Path, signer: Path | None = None, pictures: bool = False) -> list[tuple[str, str]]:
    found = actions.verify(bag, signer=signer, pictures=pictures)
    assert found["same"] == (not found["differences"])
    return [(one["what"], one["where"]) for one in found["differences"]]


def layers(bag: Path) -> list[tuple[str, str]]:
    """What differs below the signature, which holds for nothing that was changed."""
    return [(what, where) for what, where in differences(bag) if what != "signature"]


def listed_anew(bag: Path) -> None:
    """The manifests made to fit what was tampered with."""
    info = dict(line.split(": ", 1) for line in (bag / "bag-info.txt").read_text().splitlines())
    info.pop("Payload-Oxum")
    list_files(bag, info)


def tampered(bag: Path, *statements: str) -> None:
    database = sqlite3.connect(bag / "data" / "routine.case")
    for trigger in ("events_are_not_rewritten", "events_are_not_removed"):
        database.execute(f"DROP TRIGGER {trigger}")
    for statement in statements:
        database.execute(statement)
    database.commit()
    database.close()
    listed_anew(bag)


def test_a_bag_derives_again_down_to_its_pictures_and_its_signature(sent: Path, bag: Path) -> None:
    found = run("verify", bag, "--pictures", "--signer", sent / "a.public.pem", "--json")
    said = json.loads(found.stdout)
    assert (found.returncode, said["same"], said["not_checked"]) == (0, True, [])
    assert said["checked"] == [
        "files", "rule_book", "chain", "recording", "readings", "ledger", "pages", "pictures", "signature"
    ]  # fmt: skip


def test_the_library_of_congress_validator_passes_it_signed_and_unsigned(sent: Path) -> None:
    # RFC 8493, section 3, as `bagit` has it
    assert bagit.Bag(str(sent / "bag")).is_valid()
    assert bagit.Bag(str(sent / "again")).is_valid()


def test_the_same_case_gives_the_same_bytes(sent: Path) -> None:
    one, two = (
        {p.name: p.read_bytes() for p in (sent / n).rglob("*") if p.is_file()} for n in ("bag", "again")
    )
    assert {name: one[name] for name in two} == two
    assert [name for name in one if name not in two] == [p.name for p in (sent / "bag").glob("signature-*")]


def test_names_free_text_and_file_paths_stay_behind(sent: Path) -> None:
    for path in (one for one in (sent / "bag").rglob("*") if one.is_file()):
        content = path.read_bytes()
        for secret in (
            b"Somebody",
            b"free text about",
            str(sent).encode(),
            b"square-on.mp4",
            b"Bagging-Date",
        ):
            assert secret not in content, path.name


def test_it_verifies_read_only_and_nothing_in_it_changes(bag: Path) -> None:
    before = {path: path.read_bytes() for path in bag.rglob("*") if path.is_file()}
    for path in before:
        path.chmod(0o444)
    assert differences(bag, pictures=True) == []
    assert {path: path.read_bytes() for path in bag.rglob("*") if path.is_file()} == before


def test_it_verifies_as_a_zip_file(bag: Path, tmp_path: Path, sent: Path) -> None:
    archive = shutil.make_archive(str(tmp_path / "sent"), "zip", bag.parent, "bag")
    assert differences(Path(archive), sent / "a.public.pem", pictures=True) == []


def test_without_a_recording_and_a_report_what_is_there_is_checked(
    sent: Path, bag: Path, tmp_path: Path
) -> None:
    case = bag / "data" / "routine.case"
    assert run("pack", case, "-o", tmp_path / "bare", "--no-report", "--date", DATE).returncode == 0
    assert f"Bagging-Date: {DATE}\n" in (tmp_path / "bare" / "bag-info.txt").read_text()
    found = actions.verify(tmp_path / "bare")
    assert found["same"]
    assert {one["what"] for one in found["not_checked"]} == {"recording", "ledger", "pages", "signature"}
    assert not (tmp_path / "bare" / "data" / "report").exists()


def files_of(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_one_byte_changed_in_any_file_is_named(bag: Path) -> None:
    for name in files_of(bag):
        whole = (bag / name).read_bytes()
        for place in (0, len(whole) // 2, len(whole) - 1):
            changed = bytearray(whole)
            changed[place] ^= 4
            (bag / name).write_bytes(changed)
            named = [where for _, where in differences(bag)]
            assert any(where.startswith(name) or name == "tagmanifest-sha256.txt" for where in named), name
        (bag / name).write_bytes(whole)
    assert differences(bag) == []


def test_a_removed_file_is_named(bag: Path) -> None:
    for name in files_of(bag):
        whole = (bag / name).read_bytes()
        (bag / name).unlink()
        found = differences(bag, signer=None)
        assert name.startswith("signature-") or ("file", name) in found
        (bag / name).write_bytes(whole)


def test_an_added_file_and_a_link_are_named(bag: Path) -> None:
    (bag / "data" / "routine.case-journal").write_bytes(b"x" * 600)
    (bag / "data" / "report" / "more.html").symlink_to("report.html")
    found = differences(bag)
    assert found == [("file", "data/report/more.html"), ("file", "data/routine.case-journal")]


def test_a_linked_case_is_not_opened(bag: Path) -> None:
    (bag / "data" / "routine.case").rename(bag.parent / "routine.case")
    (bag / "data" / "routine.case").symlink_to(bag.parent / "routine.case")
    found = actions.verify(bag)
    assert ("file", "data/routine.case") in [(one["what"], one["where"]) for one in found["differences"]]
    assert "case" in {one["what"] for one in found["not_checked"]}


def test_a_changed_event_is_named_although_the_manifests_were_made_anew(bag: Path) -> None:
    changed = "CAST(replace(CAST(body AS TEXT), 'arms-bent', 'legs-bent') AS BLOB)"
    tampered(bag, f"UPDATE events SET body = {changed} WHERE CAST(body AS TEXT) LIKE '%arms-bent%'")
    found = differences(bag)
    assert [what for what, _ in found if what == "file"] == []
    assert found[0][0] == "event"


def test_a_removed_event_is_named_although_the_rest_was_counted_anew(bag: Path) -> None:
    tampered(
        bag,
        "DELETE FROM events WHERE number = 8",
        "UPDATE events SET number = -number WHERE number > 8",
        "UPDATE events SET number = -number - 1 WHERE number < 0",
    )
    assert ("event", "8") in differences(bag)


def test_events_in_another_order_are_named(bag: Path) -> None:
    tampered(
        bag,
        "UPDATE events SET number = -8 WHERE number = 8",
        "UPDATE events SET number = 8 WHERE number = 9",
        "UPDATE events SET number = 9 WHERE number = -8",
    )
    assert {("event", "8")} <= set(differences(bag))


def test_a_tail_that_was_cut_off_is_named_by_the_signature(sent: Path, bag: Path) -> None:
    tampered(bag, "DELETE FROM events WHERE number = (SELECT max(number) FROM events)")
    found = differences(bag, sent / "a.public.pem")
    assert any(what == "signature" and where.endswith(": head") for what, where in found)
    assert any(what == "signature" and where.endswith(": events") for what, where in found)


def test_swapped_stills_are_named_although_the_manifests_were_made_anew(bag: Path) -> None:
    page = bag / "data" / "report" / "report.html"
    text = page.read_text()
    pictures = [part.split('"', 1)[0] for part in text.split("data:image/jpeg;base64,")[1:3]]
    swapped = text.replace(pictures[0], "@").replace(pictures[1], pictures[0]).replace("@", pictures[1])
    page.write_text(swapped)
    listed_anew(bag)
    assert [what for what, _ in differences(bag)].count("picture") == 2


def test_another_rule_book_beside_the_case_is_named(bag: Path) -> None:
    book = bag / "data" / "rule-book.yaml"
    book.write_text(book.read_text().replace("0.150", "0.100"))
    listed_anew(bag)
    assert layers(bag) == [("rule", "data/rule-book.yaml")]


def test_another_chain_beside_the_report_is_named(bag: Path) -> None:
    path = bag / "data" / "report" / "case.json"
    case = json.loads(path.read_bytes())
    case["events"][5], case["events"][6] = case["events"][6], case["events"][5]
    path.write_text(json.dumps(case))
    listed_anew(bag)
    wanted = [("event", "data/report/case.json: event 7")]
    assert [one for one in layers(bag) if one[0] == "event"] == wanted


def test_a_recording_swapped_for_another_is_named(bag: Path) -> None:
    (recording,) = (bag / "data" / "recordings").iterdir()
    recording.write_bytes(recording.read_bytes() + b"\0")
    listed_anew(bag)
    assert ("recording", "recording-1.mp4") in differences(bag)


def test_a_bag_of_another_version_is_compared_layer_by_layer_and_says_so(bag: Path) -> None:
    path = bag / "data" / "report" / "report.json"
    finding = json.loads(path.read_bytes())
    finding["version"] = "0.0.9"
    path.write_bytes(readable(finding))
    listed_anew(bag)
    found = actions.verify(bag, pictures=True)
    assert [one["what"] for one in found["differences"] if one["what"] != "signature"] == []
    assert {"chain", "readings", "ledger", "pictures"} <= set(found["checked"])
    assert any("0.0.9" in one["why"] for one in found["not_checked"] if one["what"] == "pages")
    finding["score"]["final_score"] = "9.000"
    path.write_bytes(readable(finding))
    listed_anew(bag)
    assert ("ledger", "report.json: score.final_score") in layers(bag)


def spoiled(key: str, value: object) -> Callable[[dict[str, Any]], None]:
    def spoil(finding: dict[str, Any]) -> None:
        finding[key] = value

    return spoil


@pytest.mark.parametrize(
    "spoil",
    [
        spoiled("stills", 3),
        spoiled("stills", [{}]),
        spoiled("stills", [{"id": 1}]),
        spoiled("score", None),
        spoiled("version", "9.9.9"),
        lambda finding: finding["stills"][0].pop("overlay"),
        lambda finding: finding.clear(),
    ],
)
def test_a_finding_that_is_not_whole_is_named(bag: Path, spoil: Callable[[dict[str, Any]], None]) -> None:
    path = bag / "data" / "report" / "report.json"
    finding = json.loads(path.read_bytes())
    spoil(finding)
    path.write_text(json.dumps(finding))
    listed_anew(bag)
    found = actions.verify(bag)
    other_version = {"pages"} == {one["what"] for one in found["not_checked"]} & {"pages"}
    assert found["differences"] or other_version


@pytest.mark.parametrize("content", [b"", b"SQLite format 3\0", b"{}"])
def test_a_case_that_cannot_be_read_is_named(bag: Path, content: bytes) -> None:
    (bag / "data" / "routine.case").write_bytes(content)
    listed_anew(bag)
    assert any("routine.case" in where for _, where in differences(bag))


def test_a_foreign_signature_is_named(sent: Path, bag: Path) -> None:
    found = run("verify", bag, "--signer", sent / "b.public.pem", "--json")
    (one,) = json.loads(found.stdout)["differences"]
    assert (found.returncode, one["what"]) == (1, "signature")
    assert run("sign", bag, "--key", sent / "b.pem").returncode == 0
    assert differences(bag, sent / "b.public.pem") == []
    assert differences(bag, sent / "a.public.pem") == []


def test_a_forged_signature_is_named(bag: Path) -> None:
    (place,) = bag.glob("signature-*.json")
    document = json.loads(place.read_bytes())
    document["signed"]["events"] += 1
    place.write_text(json.dumps(document))
    assert differences(bag) == [("signature", place.name)]


def test_a_signature_taken_from_another_bag_is_named(sent: Path, bag: Path, tmp_path: Path) -> None:
    case = bag / "data" / "routine.case"
    assert run("pack", case, "-o", tmp_path / "other", "--no-report").returncode == 0
    (place,) = bag.glob("signature-*.json")
    shutil.copy(place, tmp_path / "other" / place.name)
    found = differences(tmp_path / "other", sent / "a.public.pem")
    assert {what for what, _ in found} == {"signature"}


def test_unsigned_is_said_and_no_fault_unless_a_signer_was_asked_for(sent: Path) -> None:
    found = actions.verify(sent / "again")
    assert found["same"]
    assert {"what": "signature", "why": "the bag carries none"} in found["not_checked"]
    assert [what for what, _ in differences(sent / "again", sent / "a.public.pem")] == ["signature"]


def test_a_damaged_bag_is_not_signed(sent: Path, bag: Path) -> None:
    (bag / "data" / "rule-book.yaml").write_text("other")
    found = run("sign", bag, "--key", sent / "b.pem", "--json")
    assert found.returncode == 2
    assert json.loads(found.stdout)["problems"][0]["where"] == "data/rule-book.yaml"
    assert len(list(bag.glob("signature-*"))) == 1


def test_packing_refuses_what_is_there_and_leaves_nothing_half_written(bag: Path, tmp_path: Path) -> None:
    case = bag / "data" / "routine.case"
    (tmp_path / "there").mkdir()
    found = run("pack", case, "-o", tmp_path / "there", "--json")
    assert (found.returncode, json.loads(found.stdout)["problems"][0]["code"]) == (2, "bag-exists")
    for words in (("--recording", bag / "bagit.txt"), ("--date", "yesterday"), ("--use", "teaching")):
        assert run("pack", case, "-o", tmp_path / "new", *words).returncode == 2
    assert run("pack", case, "-o", tmp_path / "nowhere" / "new").returncode == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["elsewhere", "there"]


def test_a_disk_that_fails_while_packing_leaves_nothing(
    bag: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, os.strerror(28))

    with actions.open_case(bag / "data" / "routine.case", author=None) as audit:
        monkeypatch.setattr("reviewer.actions.packing.write_report", full)
        with pytest.raises((OSError, TypeError)):
            actions.pack_case(audit, tmp_path / "new", use="inquiry", today=DATE)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["elsewhere"]


def test_a_key_or_a_signer_where_none_belongs_is_refused(sent: Path, bag: Path, tmp_path: Path) -> None:
    assert run("key", sent / "a.pem").returncode == 2
    assert run("sign", tmp_path, "--key", sent / "a.pem").returncode == 2
    assert run("sign", bag, "--key", sent / "a.public.pem").returncode == 2
    assert run("verify", bag, "--signer", sent / "a.pem").returncode == 2
    assert run("verify", bag / "data" / "routine.case", "--signer", sent / "a.public.pem").returncode == 2
    assert run("verify", bag, "--signer", sent / "nowhere.pem").returncode == 2


def test_an_archive_that_leads_out_of_its_folder_is_refused(bag: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "bad.zip", "w") as made:
        made.writestr("../bagit.txt", "x")
    found = run("verify", tmp_path / "bad.zip", "--json")
    assert (found.returncode, json.loads(found.stdout)["problems"][0]["code"]) == (2, "unsafe-archive")


def test_what_was_checked_is_not_told_to_be_unchecked(sent: Path, bag: Path) -> None:
    for signature in bag.glob("signature-*.json"):
        signature.unlink()
    found = actions.verify(bag, signer=sent / "a.public.pem")
    assert [one["what"] for one in found["differences"]] == ["signature"]
    assert not {one["what"] for one in found["not_checked"]} & set(found["checked"])


def test_a_bag_leaves_the_words_of_inquiries_behind_unless_asked_and_derives_again_either_way(
    tmp_path: Path,
) -> None:
    actions.run_demo(tmp_path / "demo")
    case = tmp_path / "demo" / "square-on.case"
    question, reply = "Somebody fell because of the mat", "Somebody did not fall"
    with actions.open_case(case, author="A") as audit:
        actions.file_inquiry(audit, asked_by="coach", about="score", words=question)
        actions.answer_inquiry(audit, "q1", words=reply)
    for name, more in (("bag", ()), ("with", ("--with-words",))):
        assert run("pack", case, "-o", tmp_path / name, *more).returncode == 0
        found = actions.verify(tmp_path / name)
        assert found["same"], found["differences"]
        assert "pages" in found["checked"]
    carried = b"".join(path.read_bytes() for path in (tmp_path / "bag").rglob("*") if path.is_file())
    assert b"Somebody" not in carried
    page = (tmp_path / "bag" / "data" / "report" / "report.html").read_text("utf-8")
    assert "The words of the question are not at hand here" in page
    assert "The words of the answer are not at hand here" in page
    whole = (tmp_path / "with" / "data" / "report" / "report.html").read_text("utf-8")
    assert question in whole
    assert reply in whole


def test_words_taken_out_of_a_bag_unsaid_are_named(tmp_path: Path) -> None:
    actions.run_demo(tmp_path / "demo")
    with actions.open_case(tmp_path / "demo" / "square-on.case", author="A") as audit:
        actions.file_inquiry(audit, asked_by="coach", about="score", words="Was that a fall?")
        actions.pack_case(audit, tmp_path / "bag", use="inquiry", today=DATE)
    stored = tmp_path / "bag" / "data" / "report" / "report.json"
    said = json.loads(stored.read_bytes())
    del said["inquiry"]["asked"][0]["words_left_out"]
    stored.write_bytes(readable(said))
    listed_anew(tmp_path / "bag")
    assert ("ledger", "report.json: inquiry.asked[0].words_left_out") in differences(tmp_path / "bag")
