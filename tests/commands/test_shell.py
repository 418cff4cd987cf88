"""One call of the command line: where options may stand, exit codes, what goes to which stream."""

import subprocess
import sys
from pathlib import Path

import pytest

from hilum import __version__
from hilum.__main__ import main
from tests.commands.calling import hilum
from tests.support.sources import HOUSE

VERBS = (
    "new intake prepare lots show draw lay count germination labels pack backup restore check hold lift place move day "
    "forecast reckon"
)
PACK = "pack LEK-25-001-S --seeds 50 --design packet -o sheet.pdf"
LATER = "export"


def shell(*words: str, **more: object) -> "subprocess.CompletedProcess[str]":
    """Start the program in a process of its own."""
    command = [sys.executable, "-m", "hilum", *words]
    return subprocess.run(
        command,
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=HOUSE,
        **more,  # type: ignore[call-overload]
    )


def test_the_version_and_the_help_are_told(capsys: pytest.CaptureFixture[str]):
    """Both end well, and the help names every verb and nothing that is not there yet."""
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"hilum {__version__}\n"
    assert main(["--help"]) == 0
    told = capsys.readouterr().out
    assert [verb for verb in VERBS.split() if f"    {verb} " not in told] == []
    assert [verb for verb in LATER.split() if f"    {verb} " in told] == []


@pytest.mark.parametrize("verb", VERBS.split())
def test_every_verb_explains_itself(verb: str):
    """The help of a verb fits the screen and says how options are written."""
    called = hilum(verb, "--help")
    assert called.code == 0
    assert called.out.startswith(f"usage: hilum {verb}")
    assert max(len(line) for line in called.out.splitlines()) <= 100


@pytest.mark.parametrize("verb", LATER.split())
def test_what_is_not_built_is_not_offered(verb: str):
    """An unknown verb is refused with the verbs there are, or the nearest."""
    called = hilum(verb)
    assert called.code == 2
    assert f"“{verb}” is nothing that hilum can do" in called.err
    assert called.out == ""


def test_a_mistyped_verb_gets_the_nearest():
    """One letter missing is no riddle."""
    assert "Is lots meant?" in hilum("lot").err


@pytest.mark.parametrize("order", ["before", "after", "both sides"])
def test_shared_options_stand_before_or_after_the_verb(
    library: Path, order: str, monkeypatch: pytest.MonkeyPatch
):
    """--catalogue and --json are understood in either place."""
    monkeypatch.delenv("HILUM_CATALOGUE")
    where = ["--catalogue", str(library)]
    words = {
        "before": [*where, "--json", "lots"],
        "after": ["lots", *where, "--json"],
        "both sides": ["--json", "lots", *where],
    }[order]
    called = hilum(*words)
    assert (called.code, called.err) == (0, "")
    assert called.document["total"] == 30


def test_shared_options_stand_anywhere_around_a_step_of_preparing(library: Path):
    """The two-word verb takes them in all three places."""
    for words in (
        ["--json", "prepare", "LEK-25-001-S", "weigh", "--grams", "38"],
        ["prepare", "--json", "LEK-25-001-S", "weigh", "--grams", "38"],
        ["prepare", "LEK-25-001-S", "weigh", "--grams", "38", "--json"],
    ):
        assert hilum(*words).document["stock_mg"] == 38_000


def test_the_place_named_by_option_goes_before_the_environment(library: Path, tmp_path: Path):
    """HILUM_CATALOGUE is what stands when no option says otherwise."""
    other = tmp_path / "other.hilum"
    assert hilum("new", other).code == 0
    assert hilum("lots", "--json", "--catalogue", other).document["total"] == 0
    assert hilum("lots", "--json").document["total"] == 30


def test_without_a_named_place_the_user_s_own_folder_is_meant(keeper_home: Path):
    """Where nothing lies there yet, the words say how to make it; `new` alone makes it."""
    called = hilum("lots")
    assert called.code == 1
    assert "There is no catalogue at" in called.err
    assert "hilum new" in called.err
    made = hilum("new", "--json")
    assert Path(made.document["catalogue"]).is_relative_to(keeper_home)
    assert hilum("lots", "--json").document["total"] == 0


def test_an_abbreviated_option_is_refused():
    """Abbreviations would come to mean something else when options are added."""
    called = hilum("lots", "--lim", "3")
    assert called.code == 2
    assert "Not understood: --lim 3. How it is written: hilum lots --help" in called.err


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("draw LEK-25-001-S --as sown", 2, "one of the arguments --grams --seeds is required"),
        ("draw LEK-25-001-S --grams 1,5 --as sown", 2, "has a comma"),
        ("draw LEK-25-001-S --grams 1 --as eaten", 2, "invalid choice: 'eaten'"),
        ("draw LEK-25-001-T --grams 1 --as sown", 2, "Nearest: LEK-25-001-S"),
        ("draw LEK-25-001-S --grams 39 --as sown", 1, "holds 38.5 g; 39 g cannot be taken"),
        ("draw LEK-25-001-S --grams 38 --as packed", 2, "the reserve is"),
        ("show nonsense", 2, "is not a lot number"),
        ("lots --on 5.12.2026", 2, "write it as 2026-12-05"),
        ("lots --limit 0", 2, "not between 1"),
        ("germination LEK-25-001-S --of 100 --normal 104", 2, "104"),
        ("germination LEK-25-001-S --of 100 --normal 88,90 --dead 3", 2, "2 figures of normal"),
        ("prepare LEK-25-001-S", 2, "required: STEP"),
        ("prepare LEK-25-001-S clean --grams 50", 2, "cannot weigh"),
        ("prepare LEK-25-001-S dry --evidence moisture", 2, "needs its figure in percent"),
        ("prepare LEK-25-001-S freeze --celsius -18", 2, "no evidence that the seed is dry"),
        ("prepare LEK-25-001-S freeze --celsius 4", 2, "4 °C is no freezer"),
        ("labels --design packet --label-stock a4-3x8 -o sheet.pdf", 2, "--lots --find --due --list is required"),
        ("labels --lots , --design packet --label-stock a4-3x8 -o sheet.pdf", 2, "names no lot"),
        ("labels --find fenlok --design packet --label-stock a4-3x8 -o sheet.pdf", 2, "Did you mean: Fenlock"),
        ("labels --due --on 2020-01-01 --design packet --label-stock a4-3x8 -o sheet.pdf", 2, "No lot is due"),
        ("labels --find leek --design postcard --label-stock a4-3x8 -o sheet.pdf", 2, "postcard"),
        ("labels --find leek --design packet --label-stock a4-9x9 -o sheet.pdf", 2, "no label stock"),
        ("labels --find leek --design dish --label-stock a4-3x8 -o sheet.pdf", 2, "is under test"),
        ("labels --find leek --design packet --label-stock a4-3x8 -o library.hilum", 2, "is no PDF"),
        ("labels --find leek --design packet --label-stock a4-3x8 -o no/sheet.pdf", 2, "There is no folder"),
        ("pack LEK-25-001-S --seeds 50", 2, "Packing needs --packets, --design, --label-stock, -o"),
        (f"{PACK} --packets 9000 --label-stock a4-3x8", 2, "above its reserve"),
        (f"{PACK} --packets 3 --label-stock a4-9x9", 2, "no label stock"),
        ("intake missing.csv", 2, "There is no file missing.csv"),
        ("lift LEK-25-001-S --why looked", 2, "bears no hold"),
        ("hold LEK-25-001-S mice", 2, "invalid choice: 'mice'"),
        ("move LEK-25-001-S cellar", 2, "There is no store place “cellar”"),
        ("place cellar", 2, "Say what “cellar” is with --kind"),
        ("restore missing.hilum", 1, "There is no copy at missing.hilum"),
        ("backup library.hilum", 1, "already exists"),
        ("new library.hilum", 1, "already exists"),
    ],
)  # fmt: skip
def test_what_cannot_be_done_changes_nothing(
    library: Path, monkeypatch: pytest.MonkeyPatch, words: str, code: int, said: str
):
    """The exit code says failed or bad input, one line says why, and catalogue and folder are as they were."""
    monkeypatch.chdir(library.parent)
    before, files = library.read_bytes(), sorted(each.name for each in library.parent.iterdir())
    called = hilum(*words.split())
    assert called.code == code, called.err
    assert said.casefold() in called.err.casefold()
    assert len(called.err.strip().splitlines()) == 1
    assert called.out == ""
    assert library.read_bytes() == before
    assert sorted(each.name for each in library.parent.iterdir()) == files


def test_a_fault_of_the_program_goes_whole_to_the_log(keeper_home: Path):
    """The keeper reads one line with the place of the log, never a bare traceback."""

    def broken(where: str | None, demo: bool) -> int:
        raise ZeroDivisionError("the page was folded\nsixty times")

    called = hilum(open_window=broken)
    assert called.code == 1
    [line] = called.err.splitlines()
    assert "A fault in Hilum, not yours (ZeroDivisionError: the page was folded sixty times)" in line
    [log] = keeper_home.rglob("hilum.log")
    assert str(log) in line
    assert "Traceback (most recent call last)" in log.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ((), (None, False)),
        (("--demo",), (None, True)),
        (("--catalogue", "mine.hilum"), ("mine.hilum", False)),
    ],
)
def test_without_a_verb_the_window_opens(words: tuple[str, ...], expected: tuple[str | None, bool]):
    """The window is handed the named place, or none, and whether the demo library is wanted."""
    opened = []

    def open_window(where: str | None, demo: bool) -> int:
        opened.append((where, demo))
        return 0

    assert hilum(*words, open_window=open_window).code == 0
    assert opened == [expected]


@pytest.mark.parametrize("words", ["--json", "--demo lots", "--no-screen lots"])
def test_options_of_the_window_and_of_verbs_do_not_mix(words: str):
    """What would be ignored in silence is refused."""
    assert hilum(*words.split()).code == 2


def test_a_plain_terminal_shows_plain_characters(library: Path):
    """What a terminal cannot show is put in plain characters, and JSON stays JSON."""
    assert hilum("hold", "LEK-25-001-S", "other", "--note", "Öttl’s “grün” 5 °C").code == 0
    called = hilum("show", "LEK-25-001-S", encoding="ascii")
    assert called.code == 0
    assert 'Leek "Fenlock Grey", 2025' in called.out
    assert 'Ottl\'s "grun" 5  deg C' in called.out
    told = hilum("show", "LEK-25-001-S", "--json", encoding="ascii").document
    assert told["holds"][0]["note"] == "Öttl’s “grün” 5 °C"


def test_a_reader_who_has_seen_enough_is_no_error(library: Path):
    """`hilum lots | head -1` ends quietly."""
    command = [sys.executable, "-u", "-m", "hilum", "lots"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=HOUSE)
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    said = process.stderr.read()
    process.stderr.close()
    assert (process.wait(), said) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="only Linux has a device that is always full")
def test_an_answer_that_cannot_be_written_is_told(library: Path):
    """A list that was lost is a failure; work that was done is not called undone."""
    with open("/dev/full", "w", encoding="utf-8") as full:
        command = [sys.executable, "-m", "hilum"]
        lost = subprocess.run(
            [*command, "lots"], check=False, stdout=full, stderr=subprocess.PIPE, text=True, cwd=HOUSE
        )
        drawn = subprocess.run(
            [*command, "draw", "LEK-25-001-S", "--grams", "1", "--as", "sown"],
            check=False,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            cwd=HOUSE,
        )
    assert (lost.returncode, len(lost.stderr.splitlines())) == (1, 1)
    assert drawn.returncode == 0
    assert "What was asked is done" in drawn.stderr
    assert hilum("show", "LEK-25-001-S", "--json").document["stock_mg"] == 37_500


def test_the_demo_library_without_a_screen(
    tmp_path: Path, keeper_home: Path, monkeypatch: pytest.MonkeyPatch
):
    """The due list is printed, a proofed sheet lies in the current folder, and the demo library is made once."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    called = hilum("--no-screen")
    assert called.code == 0, called.err
    assert "never tested; first test season after receipt" in called.out
    assert "24 of 24 codes read back" in called.out
    [sheet] = folder.iterdir()
    assert str(sheet) in called.out.splitlines()
    [demo] = keeper_home.rglob("*.hilum")
    made = demo.stat()
    assert sheet.read_bytes().startswith(b"%PDF")
    again = hilum("--no-screen", "--json").document
    assert (again["labels"], again["proof"]["unread"]) == (24, [])
    assert again["total"] == len(again["due"]) > 0
    assert Path(again["catalogue"]) == demo
    assert demo.stat().st_ino == made.st_ino


def test_a_named_catalogue_without_a_screen(library: Path, monkeypatch: pytest.MonkeyPatch):
    """Who names a catalogue gets the same of it, not of the demo library."""
    monkeypatch.chdir(library.parent)
    found = hilum("--no-screen", "--catalogue", library, "--json").document
    assert (found["catalogue"], found["labels"]) == (str(library), 24)


def test_the_program_starts_as_a_module():
    """`python -m hilum` is the same command."""
    called = shell("--version")
    assert (called.returncode, called.stdout.strip(), called.stderr) == (0, f"hilum {__version__}", "")
