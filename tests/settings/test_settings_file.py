"""The settings file: TOML 1.0 as the standard library reads it, sizes in binary multiples (IEC 80000-13)."""

import dataclasses
import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st

from reviewer import settings
from reviewer.settings import Choices, SettingsError


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "settings.toml"


def written(file: Path, text: str) -> Choices:
    file.write_bytes(text.encode("utf-8"))
    return settings.read_choices(file)


def codes(choices: Choices) -> list[str]:
    return [problem.code for problem in choices.problems]


def test_each_attribute_has_a_key_and_each_key_a_description() -> None:
    keys = [setting.key for setting in settings.all_settings()]
    assert [field.name for field in dataclasses.fields(settings.Preferences)] == [
        key.replace("-", "_") for key in keys
    ]
    assert all(setting.description.endswith(".") for setting in settings.all_settings())


def test_a_file_that_is_not_there_sets_nothing_and_is_not_made(file: Path) -> None:
    found = settings.read_choices(file)
    assert found.preferences() == settings.Preferences(
        2**30, 4 * 2**30, True, "as the system", 100, "en", True
    )
    assert {one.origin for one in found.chosen} == {"default"}
    assert not file.exists()


def test_each_way_of_writing_a_value_is_read(file: Path) -> None:
    sizes = "\"picture-memory\" = 1000000000\r\nsmall-picture-disk='512 MiB'\n"
    found = written(file, f"\ufeff# mine\n{sizes}small-pictures = false")
    assert found.preferences() == settings.Preferences(
        1_000_000_000, 512 * 2**20, False, "as the system", 100, "en", True
    )
    assert [one.origin for one in found.chosen][:3] == [f"{file}: line {line}" for line in (2, 3, 4)]


@pytest.mark.parametrize(
    ("said", "size"),
    [
        ("1 GiB", 1_073_741_824),
        ("512MiB", 536_870_912),
        ("65536 KiB", 67_108_864),
        ("1 TiB", 1_099_511_627_776),
        ("67108864", 67_108_864),
        ("67108865 bytes", 67_108_865),
    ],
)
def test_sizes_are_binary_multiples(said: str, size: int, file: Path) -> None:
    """IEC 80000-13: Ki, Mi, Gi and Ti are 1024 to the first, second, third and fourth power."""
    assert written(file, f'picture-memory = "{said}"').preferences().picture_memory == size


@pytest.mark.parametrize(
    "value",
    [
        '"1 GB"',
        '"1.5 GiB"',
        '"-1 GiB"',
        '"lots"',
        '""',
        "1.5",
        "true",
        "-5",
        "[]",
        "63",
        '"63 MiB"',
        "1979-05-27",
    ],
)
def test_a_size_that_cannot_be_is_named_with_its_line(value: str, file: Path) -> None:
    found = written(file, f"\n\npicture-memory = {value}\nsmall-pictures = 'off'\n")
    (problem,) = found.problems
    assert (problem.code, problem.where) == ("bad-setting", f"{file}: line 3")
    assert "1 GiB" in str(problem.remedy)
    assert [one.setting.written(one.value) for one in found.chosen][:3] == ["1 GiB", "4 GiB", "off"]


def test_all_faults_are_gathered(file: Path) -> None:
    text = 'small-pictures = "maybe"\npicture-memry = 1\n[colours]\nbody = "red"\n'
    found = written(file, text)
    assert codes(found) == ["unknown-setting", "unknown-setting", "bad-setting"]
    assert [problem.where[-1] for problem in found.problems] == ["2", "3", "1"]
    assert "picture-memory" in str(found.problems[0].remedy)
    with pytest.raises(SettingsError) as refused:
        found.preferences()
    assert refused.value.problems == found.problems


@pytest.mark.parametrize(
    ("content", "code", "line"),
    [
        (b'small-pictures = "on"\npicture-memory = \n', "settings-not-toml", "line 2"),
        (b"small-pictures = 'on'\nsmall-pictures = 'off'\n", "settings-not-toml", "line 2"),
        (b"# one\n# caf\xe9\n", "settings-not-toml", "line 2"),
        (b"x = " + b"[" * 100_000, "settings-not-toml", ""),
        (b"x = " + b"9" * 5000, "settings-not-toml", ""),
        (b"SQLite format 3\0" + b"\0" * 100, "settings-not-toml", "line 1"),
        (b"#" * 1_000_001, "settings-too-large", ""),
    ],
)
def test_what_is_no_settings_file_is_one_problem(content: bytes, code: str, line: str, file: Path) -> None:
    file.write_bytes(content)
    found = settings.read_choices(file)
    assert codes(found) == [code]
    assert line in found.problems[0].where
    with pytest.raises(SettingsError):
        settings.keep_setting("small-pictures", "off", file)
    assert file.read_bytes() == content


def test_a_folder_in_the_files_place_is_a_problem(tmp_path: Path) -> None:
    assert codes(settings.read_choices(tmp_path)) == ["settings-unreadable"]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", 'picture-memory = "2 GiB"\n'),
        ("# mine", '# mine\npicture-memory = "2 GiB"\n'),
        ("picture-memory=123456789 # a lot\r\n", 'picture-memory="2 GiB" # a lot\r\n'),
        (' "picture-memory" = "3 # GiB"\n#end\n', ' "picture-memory" = "2 GiB"\n#end\n'),
        ("# picture-memory = 1\nsmall-pictures = 'on'\n", "# picture-memory = 1\nsmall-pictures = 'on'\n+"),
        (
            "small-pictures = 'on'\r\n[old]\r\nkey = 1\r\n",
            "small-pictures = 'on'\r\n+\r\n[old]\r\nkey = 1\r\n",
        ),
    ],
)
def test_a_setting_is_written_and_the_rest_stays(before: str, after: str, file: Path) -> None:
    file.write_bytes(before.encode())
    kept = settings.keep_setting("picture-memory", "2048 MiB", file)
    now = file.read_bytes().decode()
    expected = after.replace("+\r\n", 'picture-memory = "2 GiB"\r\n').replace(
        "+", 'picture-memory = "2 GiB"\n'
    )
    assert now == expected
    assert kept.chosen[0].value == 2 * 2**30
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.parametrize(
    "text", ["[picture-memory]\nx = 1\n", 'picture-memory = """\n1 GiB"""\n', "picture-memory.x = 1"]
)
def test_what_cannot_be_changed_safely_is_left_alone(text: str, file: Path) -> None:
    file.write_text(text, encoding="utf-8")
    with pytest.raises(SettingsError) as refused:
        settings.keep_setting("picture-memory", "2 GiB", file)
    assert refused.value.problems[0].code == "setting-not-changed"
    assert file.read_text(encoding="utf-8") == text


lines = st.sampled_from(
    [
        "# a comment",
        "",
        "small-pictures = 'off' # why",
        "small-picture-disk = 99999999",
        "[table]\na = '''\n#'''",
    ]
)


@tries(max_examples=30, deadline=None)  # each example waits for the disk
@given(st.lists(lines, unique=True), st.integers(2**26, 2**50))
def test_whatever_stood_there_still_does(
    tmp_path_factory: pytest.TempPathFactory, some: list[str], size: int
) -> None:
    file = tmp_path_factory.mktemp("any") / "settings.toml"
    some.sort(key=lambda line: line.startswith("["))
    file.write_text("\n".join(some), encoding="utf-8")
    before = tomllib.loads(file.read_text(encoding="utf-8"))
    kept = settings.keep_setting("picture-memory", str(size), file)
    after = tomllib.loads(file.read_text(encoding="utf-8"))
    assert after.pop("picture-memory") == kept.chosen[0].setting.written(size)
    assert after == before
    assert kept.chosen[0].value == size


def test_a_link_stays_a_link_and_rights_stay(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_text("# mine\n", encoding="utf-8")
    real.chmod(0o640)
    link.symlink_to(real)
    settings.keep_setting("small-pictures", "off", link)
    assert link.is_symlink()
    assert real.read_text(encoding="utf-8") == '# mine\nsmall-pictures = "off"\n'
    assert real.stat().st_mode & 0o777 == 0o640


def test_a_write_that_fails_leaves_the_file_as_it_was(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file.write_text("# mine\n", encoding="utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        settings.keep_setting("small-pictures", "off", file)
    assert file.read_text(encoding="utf-8") == "# mine\n"
    assert list(file.parent.iterdir()) == [file]


def test_another_file_may_be_named(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("REVIEWER_SETTINGS", str(file))
    assert settings.settings_file() == file
    monkeypatch.setenv("REVIEWER_SETTINGS", "")
    assert settings.settings_file().parts[-2:] == ("reviewer", "settings.toml")


def test_small_pictures_lie_in_the_users_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the XDG base directory specification puts what may be removed at any time; Linux only."""
    monkeypatch.setenv("XDG_CACHE_HOME", "/var/tmp/a-cache")
    monkeypatch.setattr("sys.platform", "linux")
    assert settings.small_pictures_folder() == Path("/var/tmp/a-cache/reviewer/small pictures")
