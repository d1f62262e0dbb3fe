"""What is kept between runs: found again, never stale, never taken from anyone else, and no loss when it is gone."""

from __future__ import annotations

import os
import pickle
import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from catalogue import between_runs
from catalogue.between_runs import VARIABLE, kept, of_the_program
from catalogue.geometry import Point
from catalogue.people.register import Measurement, Register
from catalogue.site.templates import Templates
from catalogue.studio import reading
from catalogue.studio.reading import read_style

STEP = "## Step {n}\nA line of {{depth_{n}}}.\n\n```draft\ndepth_{n} = waist_girth / {n} + 1 cm\n```\n"
STYLE = "---\ntitle: Apron\n---\n" + "".join(STEP.format(n=n) for n in range(2, 40))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(VARIABLE, str(tmp_path / "kept"))
    return tmp_path / "kept" / of_the_program()


class Work:
    """Gives a value, and counts how many times it was asked."""

    def __init__(self, value: object) -> None:
        self.value, self.times = value, 0

    def __call__(self) -> object:
        self.times += 1
        return self.value


def test_what_was_worked_out_is_found_again_by_its_key_alone(folder: Path) -> None:
    work = Work((Point(1.0, 2.0), "front"))
    assert [kept("points", ("a", "b"), work) for _ in range(3)] == [work.value] * 3
    assert work.times == 1
    kept("points", ("ab", ""), work)
    kept("other", ("a", "b"), work)
    assert work.times == 3
    assert len(list(folder.iterdir())) == 3


def test_another_program_takes_nothing_of_it(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    work = Work("a")
    kept("text", (), work)
    monkeypatch.setattr(between_runs, "of_the_program", lambda: "another")
    between_runs._folder_in.cache_clear()
    kept("text", (), work)
    between_runs._folder_in.cache_clear()  # for the tests that come
    assert work.times == 2
    assert sorted(p.name for p in folder.parent.iterdir()) == sorted([folder.name, "another"])


def test_a_program_is_another_when_any_of_its_files_or_libraries_changes(tmp_path: Path) -> None:
    (tmp_path / "room").mkdir()
    (tmp_path / "room" / "a.py").write_text("a = 1\n")
    found = {between_runs._digest([tmp_path], ["lark 1"])}
    (tmp_path / "room" / "a.py").write_text("a = 2\n")
    found.add(between_runs._digest([tmp_path], ["lark 1"]))
    (tmp_path / "room" / "a.py").rename(tmp_path / "room" / "b.py")
    found.add(between_runs._digest([tmp_path], ["lark 1"]))
    found.add(between_runs._digest([tmp_path], ["lark 2"]))
    assert len(found) == 4
    (tmp_path / "room" / "b.pyc").write_bytes(b"compiled")
    assert between_runs._digest([tmp_path], ["lark 2"]) in found


SPOILT: dict[str, Callable[[bytes], bytes]] = {
    "cut off": lambda data: data[:-1],
    "emptied": lambda data: b"",
    "a bit changed": lambda data: data[:40] + bytes([data[40] ^ 1]) + data[41:],
    "its head alone": lambda data: data[:32],
    "noughts": lambda data: bytes(len(data)),
    "text": lambda data: b"hello",
    "twice": lambda data: data + data,
}


@pytest.mark.parametrize("spoil", SPOILT.values(), ids=SPOILT)
def test_what_is_spoilt_is_worked_out_again(folder: Path, spoil: Callable[[bytes], bytes]) -> None:
    work = Work(("long enough", 1))
    kept("text", (), work)
    [file] = folder.iterdir()
    file.write_bytes(spoil(file.read_bytes()))
    assert kept("text", (), work) == work.value
    assert work.times == 2
    assert kept("text", (), work) == work.value
    assert work.times == 2


def test_what_was_kept_for_something_else_is_worked_out_again(folder: Path) -> None:
    """Files that changed places, as after a disk was repaired: one style would be drafted as another."""
    first, second = Work("of the skirt"), Work("of the shirt")
    kept("text", ("skirt",), first)
    [skirt] = folder.iterdir()
    kept("text", ("shirt",), second)
    [shirt] = set(folder.iterdir()) - {skirt}
    shirt.write_bytes(skirt.read_bytes())
    assert kept("text", ("shirt",), second) == "of the shirt" and second.times == 2
    assert kept("text", ("skirt",), first) == "of the skirt" and first.times == 1


@pytest.mark.skipif(sys.platform == "win32", reason="has other pipes and links")
def test_a_pipe_or_a_link_where_something_was_kept_is_not_waited_for(folder: Path, tmp_path: Path) -> None:
    work = Work("a")
    kept("text", (), work)
    [file] = folder.iterdir()
    for make in (os.mkfifo, lambda path: path.symlink_to(tmp_path), Path.mkdir):
        file.unlink()
        make(file)
        assert kept("text", (), work) == "a"
        if file.is_dir() and not file.is_symlink():
            file.rmdir()
            file.touch()
    assert work.times == 4


@pytest.mark.parametrize(
    ("module", "name"),
    [("os", "mkdir"), ("catalogue.between_runs", "os.mkdir"), ("catalogue.between_runs", "keep")],
)
def test_nothing_is_made_but_values_of_the_program_s_own_kinds(
    module: str, name: str, folder: Path, tmp_path: Path
) -> None:
    harm = str(tmp_path / "harm")
    # The calls of this pickle, spelt out: no object of ours would be packed as a name with dots.
    body = b"\x80\x04" + b"".join(b"\x8c" + bytes([len(text)]) + text.encode() for text in (module, name))
    body += b"\x93X" + len(harm).to_bytes(4, "little") + harm.encode() + b"\x85R."
    work = Work("harmless")
    kept("text", (), work)
    [file] = folder.iterdir()
    file.write_bytes(between_runs._signed(file.name, body) + body)
    assert kept("text", (), work) == "harmless"
    assert work.times == 2
    assert not (tmp_path / "harm").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="rights are told otherwise there")
def test_a_folder_that_others_may_write_to_is_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shared = tmp_path / "shared"
    shared.mkdir()
    shared.chmod(0o777)
    monkeypatch.setenv(VARIABLE, str(shared))
    work = Work("a")
    kept("text", (), work)
    kept("text", (), work)
    assert work.times == 2
    assert list(shared.iterdir()) == []


@pytest.mark.parametrize("asked", ["none", "beside/the/studio", "/proc/nowhere"])
def test_where_nothing_can_be_kept_everything_is_worked_out(
    asked: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(VARIABLE, asked)
    work = Work("a")
    assert (kept("text", (), work), kept("text", (), work)) == ("a", "a")
    assert work.times == 2


def test_old_programs_and_much_that_is_kept_are_cleared_away(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for n in range(20):
        (folder.parent / f"{n:032x}").mkdir(parents=True, mode=0o700)
        os.utime(folder.parent / f"{n:032x}", (n, n))
    folder.parent.chmod(0o700)
    kept("text", (), Work("a"))
    assert len(list(folder.parent.iterdir())) == between_runs.PROGRAMS
    assert folder.is_dir()
    monkeypatch.setattr(between_runs, "MOST", 10)
    for n in range(12):
        kept("found-right" if n % 2 else "text", (str(n),), Work("a"))
    between_runs._make_room.cache_clear()
    kept("text", ("last",), Work("a"))
    assert len(list(folder.iterdir())) == 6


def test_nothing_but_what_was_kept_is_cleared_away(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # A folder that is named for it may be one's own, with letters and pictures in it.
    for n in range(20):
        (folder.parent / f"letters {n}").mkdir(parents=True, mode=0o700)
        (folder.parent / f"picture-{n}.jpg").write_text("a picture")
    folder.parent.chmod(0o700)
    kept("text", (), Work("a"))
    assert len(list(folder.parent.iterdir())) == 41
    monkeypatch.setattr(between_runs, "MOST", 10)
    for n in range(20):
        (folder / f"letter {n}.txt").write_text("a letter")
    between_runs._make_room.cache_clear()
    kept("text", ("last",), Work("a"))
    assert len(list(folder.glob("letter *.txt"))) == 20


def test_a_style_is_read_once_and_again_when_a_letter_or_a_measurement_changes(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    times = []
    plain = reading.style_from
    monkeypatch.setattr(reading, "style_from", lambda *given: times.append(1) or plain(*given))
    file = tmp_path / "styles" / "apron.md"
    file.parent.mkdir()
    file.write_text(STYLE)
    first, second = read_style(file, tmp_path), read_style(file, tmp_path)
    assert first == second == plain(file.read_bytes(), "apron", "styles/apron.md")
    assert len(times) == 1
    own = Register((Measurement("bib_width", "bib width", "width", "across", "front", {}, own=True),))
    assert read_style(file, tmp_path, own).register is own
    assert len(times) == 2
    file.write_text(STYLE.replace("1 cm", "2 cm"))
    assert read_style(file, tmp_path) != first
    assert len(times) == 3


def test_of_a_style_that_was_kept_sections_are_unpacked_when_they_are_looked_at(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "styles" / "apron.md"
    file.parent.mkdir()
    file.write_text(STYLE + "\n```draft\nstray = 1 cm\n```\n")
    first = read_style(file, tmp_path)
    unpacked: list[str] = []
    plain = between_runs._Unpacker.find_class

    def find_class(self: object, module: str, name: str) -> object:
        unpacked.append(name)
        return plain(self, module, name)  # type: ignore[arg-type]

    monkeypatch.setattr(between_runs._Unpacker, "find_class", find_class)
    style = read_style(file, tmp_path)
    assert style.title == "Apron" and style.unused == first.unused and len(style.unused) == 1
    assert "Style" in unpacked and "Section" not in unpacked
    assert style.sections[0].heading == "Step 2" and "Section" in unpacked
    assert style == first and first == style
    # Whoever looks at a section twice finds the same one, and another process finds them all.
    assert all(a is b for a, b in zip(style.sections, style.sections, strict=True))
    assert pickle.loads(pickle.dumps(style.sections)) == style.sections[:]
    assert style.sections != first.sections[1:]


def test_a_template_is_compiled_anew_when_it_changes(folder: Path, tmp_path: Path) -> None:
    own = tmp_path / "site_template" / "base.html"
    own.parent.mkdir()
    for words in ("one", "two", "one"):
        own.write_text(words)
        assert Templates(tmp_path).environment.get_template("base.html").render() == words
    assert len(list(folder.glob("template-*"))) == 2


def test_no_two_places_keep_things_under_one_name() -> None:
    """Two that did would each be given the other's, of the same key."""
    places: dict[str, set[Path]] = {}
    for file in Path(between_runs.__file__).parent.rglob("*.py"):
        code = file.read_text(encoding="utf-8")
        kinds = dict(re.findall(r"^([A-Z]+) = \"([a-z-]+)\"", code, flags=re.MULTILINE))
        for said in re.findall(r"\b(?:kept|keep|recalled)\((\"[a-z-]+\"|[A-Z]+)", code):
            places.setdefault(kinds.get(said, said.strip('"')), set()).add(file)
    assert {"style", "library", "client", "said"} <= places.keys()
    assert not {kind: files for kind, files in places.items() if len(files) > 1}
