"""``samite swatch``, ``stock`` and ``store``: options, JSON, errors and exit codes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.swatches import JPEG

from samite.cli import main
from samite.kernel.errors import InputError
from samite.services.card import make_card
from samite.services.place import store_path
from samite.services.stock import kept_iron

WOOL = "100% wool flannel, 150 cm, 300 g/m2"
LEATHER = "clear vinyl film, 0.3 mm"

Run = Callable[..., tuple[int, Any, str]]


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command on a store of its own; return exit code, JSON or text, and errors."""

    def go(*words: str, store: Path | None = None) -> tuple[int, Any, str]:
        place = str(store or tmp_path / "store.sqlite")
        with pytest.raises(SystemExit) as left:
            main([*words, "--store", place])
        said = capsys.readouterr()
        told = json.loads(said.out) if "--json" in words and said.out else said.out
        return int(left.value.code or 0), told, said.err

    return go


def test_what_is_not_said_is_as_the_press_recommends(run: Run) -> None:
    code, view, _ = run("swatch", "add", WOOL, "--seen", "set-flat", "--json")
    assert code == 0
    assert view["format"] == "samite.swatch.v1"
    recipe = make_card(WOOL, window=True).press.value
    step, press = recipe.passes[-1], view["tried"]["press"]
    assert press["dial"] == step.iron.value
    assert press["steam"] == step.steam
    assert press["side"] == step.side
    assert press["seconds"] == step.seconds[0]
    assert (press["press_cloth"] != "none") == step.cloth
    assert press["hold_tool"] == recipe.hold_tool
    assert press["hold_seconds"] == recipe.hold_seconds
    assert view["tried"]["sew"] is None
    assert view["seen"][0]["sign"] == "set-flat"
    assert view["seen"][0]["sureness"] == "clear"


def test_every_option_is_kept(run: Run, tmp_path: Path) -> None:
    run("stock", "iron", "the heavy one", "--reading", "medium 302 F", "--reading", "low 108 C")
    run("stock", "board", "sleeve board", "--cover", "felt")
    photo = tmp_path / "photo.jpg"
    photo.write_bytes(JPEG + b"a photo")
    press = "--dial medium --steam light --press-cloth damp --side right --seconds 9 --hold-tool"
    press += " weight --hold-seconds 12 --support ham --piece single-layer"
    sew = "--layers 3 --needle-point stretch --needle-size 75/11 --thread-fibre silk"
    sew += " --thread-tex 24 --stitch-type 304 --stitch-width 3 --tension 3,5"
    code, view, error = run(
        *("swatch", "add", WOOL, *press.split(), *sew.split(), "--sole", "300 F"),
        *(
            "--stitch-length",
            "12 spi",
            "--stretched",
            "40 %",
            "--hung",
            "3 kg",
            "--iron",
            "THE heavy one",
        ),
        *("--board", "sleeve board", "--seen", "pile crushed", "--doubtful", "shrunk"),
        *("--shrunk", "2 mm", "--seen", "cracked", "--cracked", "30", "--note", "a note"),
        *("--maker", "me", "--photo", str(photo), "--made-on", "2025-02-03", "--json"),
    )
    assert code == 0, error
    tried = view["tried"]
    assert tried["press"]["sole_c"] == pytest.approx(148.9, abs=0.05)
    assert (tried["iron"], tried["board"]) == ("the heavy one", "sleeve board")
    given = {"dial": "medium", "steam": "light", "press_cloth": "damp", "side": "right"}
    given |= {"hold_tool": "weight", "support": "ham", "piece": "single-layer"}
    assert {name: tried["press"][name] for name in given} == given
    assert (tried["press"]["seconds"], tried["press"]["hold_seconds"]) == (9.0, 12.0)
    assert tried["sew"] == {
        "layers": 3,
        "needle_point": "stretch",
        "needle_size_nm": 75,
        "thread_fibre": "silk",
        "thread_tex": 24.0,
        "stitch_type": "304",
        "stitch_length_mm": pytest.approx(25.4 / 12),
        "stitch_width_mm": 3.0,
        "tension": 3.5,
        "stretch_percent": 40.0,
        "hung_kg": 3.0,
    }
    seen = {item["sign"]: item for item in view["seen"]}
    assert seen["shrunk"]["shrunk_mm"] == 2.0
    assert seen["shrunk"]["sureness"] == "doubtful"
    assert seen["cracked"]["stretch_percent"] == 30.0
    assert (view["note"], view["maker"], view["made_on"]) == ("a note", "me", "2025-02-03")
    (hashed,) = view["photos"]
    folder = tmp_path / "store.sqlite.photos"
    assert (folder / hashed[:2] / hashed).read_bytes() == JPEG + b"a photo"


def test_sewing_options_alone_make_a_seam_alone(run: Run) -> None:
    _, view, _ = run("swatch", "add", WOOL, "--tension", "4", "--seen", "puckered", "--json")
    assert view["tried"]["press"] is None
    assert view["tried"]["sew"]["needle_size_nm"] == 90
    assert view["tried"]["sew"]["tension"] == 4.0


@pytest.mark.parametrize(
    ("words", "where", "told"),
    [
        (("--seconds", "-3", "--seen", "shine"), "seconds", "-3 is impossible"),
        (("--sole", "900 C", "--seen", "shine"), "sole", "900 is impossible"),
        (("--seconds", "long", "--seen", "shine"), "seconds", "no quantity"),
        (("--dial", "hot", "--seen", "shine"), "dial", "no dial position"),
        (("--seen", "glow"), "seen", "is no sign"),
        ((), "seen", "not said what was seen"),
        (("--seen", "shrunk"), "shrunk", "but not by how much"),
        (("--seen", "shine", "--shrunk", "2 mm"), "shrunk", "is not chosen"),
        (("--seen", "nothing", "--seen", "shine"), "seen", "nothing was seen, and shine was"),
        (("--seen", "puckered"), "seen", "nothing was sewn"),
        (("--seen", "shine", "--tried", "sewing"), "seen", "nothing was pressed"),
        (("--seen", "shine", "--iron", "unknown"), "iron", "no iron"),
        (("--seen", "shine", "--made-on", "2999-01-01"), "made_on", "yet to come"),
        (("--seen", "shine", "--photo", "nowhere.jpg"), "--photo", "cannot read"),
        (("--seen", "frayed", "--layers", "two"), "layers", "no whole number"),
        (("--seen", "frayed", "--tension", "-1"), "tension", "impossible"),
    ],
)
def test_what_cannot_be_is_refused_with_its_field_and_nothing_is_kept(
    run: Run, tmp_path: Path, words: tuple[str, ...], where: str, told: str
) -> None:
    code, out, error = run("swatch", "add", WOOL, *words)
    assert (code, out) == (2, "")
    assert told in error
    assert f"where: {where}\n" in error
    assert "mend:" in error
    assert run("swatch", "list", "--json")[1]["cloths"] == []


def test_a_result_without_a_trial_is_refused(run: Run) -> None:
    assert not make_card(LEATHER).press.value.passes
    code, _, error = run("swatch", "add", LEATHER, "--seen", "melted")
    assert code == 2
    assert "missing" in error


def test_list_set_aside_bin_and_undo(run: Run) -> None:
    keys = [run("swatch", "add", WOOL, "--seen", "set-flat", "--json")[1]["key"] for _ in range(3)]
    (cloth,) = run("swatch", "list", WOOL.upper(), "--json")[1]["cloths"]
    assert [item["key"] for item in cloth["swatches"]] == keys[::-1]
    few = run("swatch", "list", cloth["key"], "--most", "1", "--skip", "1", "--json")[1]["cloths"][
        0
    ]
    assert [item["key"] for item in few["swatches"]] == [keys[1]]
    assert few["count"] == 3
    assert run("swatch", "set-aside", keys[0][:6], "--json")[1]["set_aside"]
    assert not run("swatch", "set-aside", keys[0], "--back", "--json")[1]["set_aside"]
    assert run("swatch", "bin", keys[0], "--json")[1]["binned_on"]
    assert [i["key"] for i in run("swatch", "list", "--bin", "--json")[1]["binned"]] == [keys[0]]
    assert run("swatch", "bin", keys[0], "--back", "--json")[1]["binned_on"] is None
    assert run("swatch", "undo", "--json")[1]["undone"] == "swatch taken out of the bin"
    assert run("swatch", "undo", "--again", "--json")[1]["done_again"]
    assert run("swatch", "bin", cloth["key"], "--cloth", "--json")[1]["swatches"] == 3
    assert run("swatch", "list", "--json")[1]["cloths"] == []
    assert run("swatch", "bin", keys[1], "--back")[0] == 0
    assert run("swatch", "list", "--json")[1]["cloths"][0]["count"] == 1
    code, said, _ = run("swatch", "list")
    assert code == 0
    assert "set flat" in said
    assert keys[1] in said


def test_undo_of_nothing_says_so(run: Run) -> None:
    assert run("swatch", "undo")[1] == "there is nothing to be undone\n"


def test_an_iron_that_swatches_were_pressed_with_is_not_binned(run: Run) -> None:
    iron = run("stock", "iron", "old", "--json")[1]
    assert run("stock", "iron", "OLD")[0] == 2
    changed = run("stock", "iron", "old", "--reading", "low 99 C", "--key", iron["key"], "--json")[
        1
    ]
    assert changed["key"] == iron["key"]
    assert changed["dials"][0]["sole_c"] == 99.0
    run("swatch", "add", WOOL, "--iron", "old", "--seen", "set-flat")
    code, _, error = run("stock", "bin", "iron", iron["key"])
    assert code == 2
    assert "pressed with it: 1" in error


def test_an_iron_is_found_by_its_name_with_what_was_measured(run: Run, tmp_path: Path) -> None:
    run("stock", "iron", "old", "--reading", "high 205 C", "--reading", "high 189 C")
    iron = kept_iron(tmp_path / "store.sqlite", " OLD ")
    (dial,) = iron.dials
    assert (dial.dial, dial.sole_c, dial.swing_c) == ("high", 197.0, 16.0)
    with pytest.raises(InputError, match="no iron") as caught:
        kept_iron(tmp_path / "store.sqlite", "new")
    assert "known: old" in caught.value.hint


def test_stock_is_listed_by_kind(run: Run) -> None:
    run("stock", "needle", "sharp", "70", "10")
    run("stock", "thread", "polyester", "Ne 60", "200 yd", "--colour", "ash")
    view = run("stock", "list", "--json")[1]
    assert view["format"] == "samite.stock.v1"
    assert view["needles"][0]["size_nm"] == 70
    # A tex is the mass of 1000 m; English cotton count 60 is 590.5 / 60 tex (by definition).
    assert view["threads"][0]["linear_density_tex"] == pytest.approx(590.5 / 60, rel=1e-3)
    assert view["threads"][0]["length_m"] == pytest.approx(182.88)
    assert run("stock", "needle", "sharp", "7", "10")[0] == 2


def test_backup_export_import_restore_and_the_bin(run: Run, tmp_path: Path) -> None:
    run("swatch", "add", WOOL, "--seen", "set-flat")
    archive, backup = str(tmp_path / "all.zip"), str(tmp_path / "backup.zip")
    assert run("store", "export", archive, "--json")[1]["counts"]["swatch"] == 1
    assert run("store", "backup", backup)[0] == 0
    other = tmp_path / "other.sqlite"
    assert run("store", "import", archive, "--json", store=other)[1]["counts"]["swatch"] == 1
    run("swatch", "add", WOOL, "--seen", "set-flat")
    assert run("store", "restore", backup, "--json")[1]["former"]
    assert run("swatch", "list", "--json")[1]["cloths"][0]["count"] == 1
    code, _, error = run("store", "empty-bin")
    assert code == 2
    assert "cannot be undone" in error
    assert run("store", "empty-bin", "--yes", "--json")[1]["counts"]["swatch"] == 0
    view = run("store", "where", "--json")[1]
    assert view["acts"][0]["said"].startswith("bin emptied")
    assert view["there"]


def test_a_store_that_cannot_be_is_an_error_of_the_store(run: Run, tmp_path: Path) -> None:
    text = tmp_path / "notes.txt"
    text.write_text("no store at all " * 50)
    code, out, error = run("swatch", "list", store=text)
    assert (code, out) == (1, "")
    assert "no store of samite" in error
    assert "code:  damaged-store" in error


def test_where_the_store_lies() -> None:
    home = Path("~/.local/share").expanduser()
    assert store_path("", {}) == home / "samite" / "samite.sqlite"
    assert store_path("", {"XDG_DATA_HOME": "/data"}) == Path("/data/samite/samite.sqlite")
    assert store_path("", {"XDG_DATA_HOME": "relative"}) == home / "samite" / "samite.sqlite"
    assert store_path("", {"SAMITE_STORE": "/a/b.sqlite", "XDG_DATA_HOME": "/data"}) == Path(
        "/a/b.sqlite"
    )
    assert store_path("/c.sqlite", {"SAMITE_STORE": "/a/b.sqlite"}) == Path("/c.sqlite")


def test_a_card_loads_nothing_of_a_store_that_is_not_there(tmp_path: Path) -> None:
    script = (
        "import sys\n"
        "from samite.cli import main\n"
        "try:\n    main(['card', 'silk velvet'])\n"
        "except SystemExit:\n    pass\n"
        "print([name for name in sys.modules if name == 'sqlite3'\n"
        "       or name.startswith(('samite.store', 'samite.services.journal'))], file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True,
        env={**os.environ, "SAMITE_STORE": str(tmp_path / "none.sqlite")},
    )  # fmt: skip
    assert done.stderr.strip() == "[]"
