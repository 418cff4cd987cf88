"""Laying dishes and counting them from a shell; their tags; a test in groups to its end."""

from pathlib import Path

from tests.commands.calling import document, everything_in, hilum
from tests.support.sources import ROOT

LEEK = "LEK-25-001-S"
TODAY = "2026-11-25"


def test_dishes_are_laid_counted_and_judged(library: Path):
    """The published method fills in the days; figures add up day by day; the end answers like `germination`."""
    laid = document("lay", LEEK, "--of", "50,50")
    assert [dish["seeds"] for dish in laid["dishes"]] == [50, 50]
    assert [dish["final_count_on"] for dish in laid["dishes"]] == ["2026-12-09", "2026-12-09"]
    assert (laid["substrate"], laid["left"], laid["groups"]) == ("between blotters", 100, None)
    counted = document("count", LEEK, "--on", "2026-12-01", "--normal", "30,31")
    assert (counted["normal"], counted["left"], counted["next_count_on"]) == (61, 39, "2026-12-09")
    # A second call on the same day adds a class and leaves the other as it was.
    counted = document("count", LEEK, "--on", "2026-12-01", "--dead", "2,1")
    assert (counted["normal"], counted["left"]) == (61, 36)
    done = document("count", LEEK, "--on", "2026-12-09", "--normal", "15,14", "--dead", "3,4", "--finish")
    assert (done["germination_percent"], done["verdict"], done["seeds"]) == (90, "keep", 100)
    assert done["dead_percent"] == 10


def test_without_figures_the_verb_only_tells(library: Path):
    """Nothing is written by a look."""
    hilum("lay", LEEK)
    before = everything_in(library)
    told = hilum("count", LEEK)
    assert told.code == 0
    assert "Final count" in told.out
    assert "2026-12-09" in told.out
    assert everything_in(library) == before


def test_a_bad_count_and_its_end_change_nothing(library: Path):
    """A finish with too many seeds writes neither the count nor the end."""
    hilum("lay", LEEK, "--of", "25,25")
    before = everything_in(library)
    for words, why in (
        (("--normal", "26,20", "--finish"), "26 seeds counted, but only 25 were laid"),
        (("--normal", "20"), "1 figures of normal seeds for 2 dishes (1, 2)"),
        (("--normal", "20,20", "--on", "2026-11-01"), "nothing was counted before that"),
        (("--give-up", "dried out", "--normal", "1,1"), "keeps no result"),
    ):
        called = hilum("count", LEEK, *words)
        assert (called.code, why in called.err) == (2, True), called.err
    assert everything_in(library) == before
    called = hilum("count", "LET-25-001-7")
    assert called.code == 2


def test_tags_come_from_a_fresh_test(library: Path, tmp_path: Path):
    """Laid by command, tagged by command."""
    hilum("lay", LEEK, "--of", "25,25,25")
    sheet = ("--design", "dish", "--label-stock", "a4-3x8", "-o", tmp_path / "tags.pdf")
    printed = document("labels", "--lots", LEEK, *sheet)
    assert (printed["labels"], printed["proof"]["unread"]) == (3, [])


def test_a_test_in_groups_from_a_shell(library: Path):
    """The bar is named, another group is drawn, and the answer comes with its risk."""
    document(
        "germination",
        LEEK,
        "--on",
        "2025-12-10",
        "--of",
        "100",
        "--normal",
        "100",
        "--elsewhere",
        "Hollin library",
    )
    laid = document("lay", LEEK, "--groups", "first-result")
    assert (laid["groups"]["decision"], laid["groups"]["bar_percent"]) == ("count on", 85)
    stock = laid["stock_seeds"]
    early = hilum("lay", LEEK, "--another")
    assert (early.code, "count the group that stands first" in early.err) == (2, True)
    first = document("count", LEEK, "--on", "2026-12-09", "--normal", "36", "--dead", "4")
    assert first["groups"]["decision"] == "sow another group"
    assert hilum("lay", LEEK, "--another", "--of", "20").code == 2
    second = document("lay", LEEK, "--another", "--on", "2026-12-09")
    assert [dish["laid_on"] for dish in second["dishes"]] == [TODAY, "2026-12-09"]
    assert second["stock_seeds"] < stock
    clear = document("count", LEEK, "--on", "2026-12-23", "--normal", "40")
    groups = clear["groups"]
    assert (groups["decision"], groups["tested"], groups["germinated"]) == (
        "stop and keep",
        [40, 80],
        [36, 76],
    )
    assert 0 < groups["wrong_chance"] < 0.25
    assert groups["seeds_saved"] == 280
    done = document("count", LEEK, "--on", "2026-12-23", "--finish")
    assert (done["verdict"], done["germination_percent"]) == ("keep", 95)


def test_a_test_is_given_up_with_its_reason(library: Path):
    """No result is kept, and the words are."""
    hilum("lay", LEEK)
    assert document("count", LEEK, "--give-up", "dried out")["state"] == "abandoned"
    assert document("show", LEEK)["tests"][0]["note"] == "dried out"


def test_tags_are_printed_by_a_design_of_the_librarys_own(library: Path, tmp_path: Path):
    """What makes it one for dishes is that it must say which dish, not its name."""
    document("lay", LEEK, "--of", "50,50")
    folder = library.parent / f"{library.stem} label designs"
    folder.mkdir(exist_ok=True)
    shipped = (ROOT / "resources" / "designs" / "dish.toml").read_text("utf-8")
    (folder / "our-dishes.toml").write_text(shipped, "utf-8")
    sheet = ("--design", "our-dishes", "--label-stock", "a4-3x8", "-o", tmp_path / "tags.pdf")
    assert document("labels", "--lots", LEEK, *sheet)["labels"] == 2
    assert (
        "no label design" in hilum("labels", "--lots", LEEK, "--design", "none-such", *sheet[2:]).err.lower()
    )
