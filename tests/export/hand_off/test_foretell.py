"""What is foretold is what is then written, and what would go is said before it does."""

from __future__ import annotations

import json
import os
from fractions import Fraction

import pytest

from checkcloth import Check, ChosenSet, Colourway, Length
from checkcloth.errors import ArgumentError, ExistsError
from checkcloth.export.hand_off.contents import CHOSEN_TASKS
from checkcloth.export.hand_off.foretell import foretell
from checkcloth.export.hand_off.hand_off import hand_off, open_hand_off
from checkcloth.export.hand_off.manifest import read_manifest, verify

NAMES = ("Morning", "Noon", "Evening", "Night", "Dawn")
SET = ChosenSet(
    Check("1/4 in", 2),
    [Colourway("white", ["navy", grey], 0.5, name=name)
     for grey, name in zip(("#111", "#333", "#555", "#777", "#999"), NAMES, strict=True)],
    "Counter cloths",
)  # fmt: skip
FEW = ChosenSet(SET.check, SET.chosen[:2], SET.name)


def at(size: str, members: ChosenSet = FEW) -> ChosenSet:
    return ChosenSet(Check(size, 2), members.chosen, members.name)


def files_in(folder):
    return sorted(
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()
    )


@pytest.mark.parametrize(
    "options",
    [
        {},
        {"paper": None, "thumbnails": (64, 128), "dpi": (100, 150), "sizes": ("1 in",)},
        {"cloth": ("30 cm", "60 cm"), "sett": "64 per in", "plates": "colours", "dpi": 100},
        {"bias": True, "families": True, "dpi": (100, 150), "paper": None},
        {"plates": "tones", "dpi": 1200, "paper": None},
    ],
)
def test_files_tasks_and_bytes_are_those_then_written(tmp_path, options):
    told = foretell(SET, None, tmp_path / "out", **options)
    assert not (tmp_path / "out").exists()
    made = hand_off(SET, None, tmp_path / "out", **options)
    assert told.files == len(made.files)
    assert told.size == pytest.approx(made.size, rel=0.25)
    tiles = [file for file in made.files if file.file.endswith(".svg") and "-tile-" in file.file]
    printer = next(task for task in told.tasks if task.task == "printer")
    assert f"{len(tiles)} × tile, SVG" in printer.what
    assert printer.files >= 2 * len(tiles)
    mill = next(task for task in told.tasks if task.task == "mill")
    assert bool(mill.missing) == ("sett" not in options)
    assert mill.files == (5 * len(SET) if "sett" in options else 0)


def test_bytes_of_a_set_that_is_drawn_whole_are_exact(tmp_path):
    told, made = foretell(FEW, None, tmp_path / "out"), hand_off(FEW, None, tmp_path / "out")
    assert told.size == made.size


def test_resolution_that_is_not_exact_comes_with_the_one_that_is():
    """A repeat of 1/4 in at 150 dpi is 37.5 pixels, and 38 at 152 dpi (plain arithmetic)."""
    (caution,) = foretell(at("1/16 in"), None, "nowhere", dpi=150, measure=False).cautions
    assert (caution.argument, caution.value, caution.blocks) == ("dpi", 152, False)
    for size, dpi in (("1/16 in", 152), ("1/8 in", 150)):
        assert foretell(at(size), None, "nowhere", dpi=dpi, measure=False).cautions == ()
    told = foretell(at("1/16 in"), None, "nowhere", dpi=150, measure=False)
    assert told.tasks[1].dpi == Fraction(152)
    assert told.tasks[1].pixels == (38, 38)


def test_names_and_large_pictures_are_cautioned():
    plain = ChosenSet(Check("1 in", 1), [Colourway("white", ["navy"])] * 2, "東雲")
    twins = [Colourway("white", ["navy"], name="Quay")] * 2
    more = {"cloth": ("60 in", "100 in"), "cut": True, "measure": False}
    told = foretell(plain, None, "nowhere", dpi=300, **more)
    assert [caution.argument for caution in told.cautions] == ["colourways", "colourways", "dpi"]
    told = foretell(plain, None, "nowhere", dpi=told.cautions[-1].value, **more)
    assert [caution.argument for caution in told.cautions] == ["colourways", "colourways"]
    (caution,) = foretell(twins, Check("1/2 in", 1), "nowhere", measure=False).cautions
    assert "Quay" in caution.words


def test_what_hand_off_refuses_is_refused_here():
    with pytest.raises(ArgumentError) as refused:
        foretell(FEW, None, "nowhere", sett="64 per in")
    assert refused.value.argument == "cloth"
    with pytest.raises(TypeError):
        foretell(FEW, None, "nowhere", nonsense=1)


def test_another_size_says_what_goes_before_and_what_went_after(tmp_path):
    """Seen failing: the next day's export replaced 82 files by 34 without a word."""
    folder = tmp_path / "out"
    hand_off(SET, None, folder, sizes=("1/2 in", "1 in"), paper=None)
    before = files_in(folder)
    told = foretell(at("1/8 in"), None, folder, paper=None, measure=False)
    assert told.replaces.earlier_size == Length("1/4 in")
    assert any(caution.argument == "overwrite" for caution in told.cautions)
    assert files_in(folder) == before, "nothing was touched"
    made = hand_off(at("1/8 in"), None, folder, paper=None, overwrite=True)
    assert set(made.went) == set(before) - set(files_in(folder))
    assert made.went == told.replaces.goes
    assert f"{len(made.went)} of the earlier one gone" in str(made)
    assert "Evening" in made._repr_html_()


def test_other_sizes_stay_when_asked_and_open_again(tmp_path):
    folder = tmp_path / "out"
    options = {"paper": None, "dpi": 100, "keep_other_sizes": True, "overwrite": True}
    first = hand_off(SET, None, folder, sizes=("1/2 in", "1 in"), **options)
    bytes_before = {file.file: (folder / file.file).read_bytes() for file in first.files}
    told = foretell(at("1/8 in"), None, folder, paper=None, dpi=100, keep_other_sizes=True)
    made = hand_off(at("1/8 in"), None, folder, **options)
    assert made.went == told.replaces.goes == ()
    assert verify(folder).ok
    assert {file.file for file in made.files} == {file.file for file in read_manifest(folder)}
    assert open_hand_off(folder).check.size == Length("1/8 in")
    earlier = open_hand_off(folder / "other-sizes" / "1-4-in")
    assert earlier == SET
    for file, content in bytes_before.items():
        kept = folder / file if file.startswith("coord") else folder / "other-sizes/1-4-in" / file
        assert kept.read_bytes() == content
    # Again: the very same bytes, nothing doubled.
    again = {file: (folder / file).read_bytes() for file in files_in(folder)}
    hand_off(at("1/8 in"), None, folder, **options)
    assert {file: (folder / file).read_bytes() for file in files_in(folder)} == again


def test_going_back_to_a_size_takes_the_place_of_what_was_kept_of_it(tmp_path):
    folder = tmp_path / "out"
    options = {"paper": None, "dpi": 100, "thumbnails": None, "keep_other_sizes": True}
    for size in ("1/4 in", "1/2 in", "1/4 in", "6.35 mm"):
        hand_off(at(size), None, folder, overwrite=True, **options)
    assert [path.name for path in (folder / "other-sizes").iterdir()] == ["1-2-in"]
    assert verify(folder).ok
    # What was dropped from the set at this size goes, and is said.
    told = foretell(at("6.35 mm", ChosenSet(SET.check, SET.chosen[:1])), None, folder,
                    measure=False, **options)  # fmt: skip
    assert told.replaces.goes == (
        "colourways/Noon/Noon-tile-6.35mm-repeat-25.4mm.svg",
        "colourways/Noon/Noon-tile-6.35mm-repeat-25.4mm-100dpi.png",
    )


def test_foreign_files_block_and_are_named(tmp_path):
    folder = tmp_path / "out"
    hand_off(FEW, None, folder, paper=None)
    (folder / "price list.ods").write_bytes(b"mine")
    told = foretell(FEW, None, folder, paper=None, measure=False)
    assert told.replaces.foreign == ("price list.ods",)
    assert [caution.blocks for caution in told.cautions] == [True]
    with pytest.raises(ExistsError, match="price list"):
        hand_off(FEW, None, folder, paper=None, overwrite=True, keep_other_sizes=True)
    photos = tmp_path / "photos"
    photos.mkdir()
    (photos / "sea.jpg").write_bytes(b"mine")
    assert foretell(FEW, None, photos, measure=False).replaces.foreign == ("sea.jpg",)
    assert foretell(FEW, None, photos / "sea.jpg", measure=False).cautions[0].blocks
    assert foretell(FEW, None, photos / "sea.jpg" / "x", measure=False).cautions[0].blocks


def test_a_listed_file_that_is_called_as_a_folder_of_ours_is_a_file_as_others(tmp_path):
    folder = tmp_path / "out"
    hand_off(FEW, None, folder, paper=None, dpi=100)
    (folder / "other-sizes").write_bytes(b"x")
    noted = json.loads((folder / "manifest.json").read_text("utf-8"))
    noted["files"].append({"file": "other-sizes", "bytes": 1, "sha256": "", "shows": "mine"})
    (folder / "manifest.json").write_text(json.dumps(noted), "utf-8")
    hand_off(at("1 in"), None, folder, dpi=100, paper=None, overwrite=True, keep_other_sizes=True)
    assert (folder / "other-sizes/1-4-in/other-sizes").read_bytes() == b"x"
    assert verify(folder).ok


def test_a_file_changed_since_stays_as_it_is_when_its_size_is_kept(tmp_path):
    folder = tmp_path / "out"
    hand_off(FEW, None, folder, paper=None, dpi=100)
    (folder / "tones.csv").write_text("mended by hand\n")
    (folder / "set.json").unlink()
    os.symlink("/etc/hostname", folder / "set.json")
    made = hand_off(at("1 in"), None, folder, dpi=100, paper=None, overwrite=True,
                    keep_other_sizes=True)  # fmt: skip
    assert (folder / "other-sizes/1-4-in/tones.csv").read_text() == "mended by hand\n"
    assert not (folder / "other-sizes/1-4-in/set.json").exists(), "a link is not followed"
    assert verify(made.folder).ok


@pytest.mark.parametrize("broken", ["copy", "manifest", "commit"])
def test_killed_between_writes_leaves_the_earlier_export_whole(tmp_path, monkeypatch, broken):
    folder = tmp_path / "out"
    hand_off(FEW, None, folder, paper=None, dpi=100)
    before = {file: (folder / file).read_bytes() for file in files_in(folder)}

    def die(*_, **__):
        raise KeyboardInterrupt

    target = {
        "copy": "checkcloth.export.hand_off.hand_off.copy_of",
        "manifest": "checkcloth.export.hand_off.hand_off.manifest_json",
        "commit": "checkcloth.export.hand_off.staging.Staging.commit",
    }[broken]
    with monkeypatch.context() as patched:
        patched.setattr(target, die)
        with pytest.raises(KeyboardInterrupt):
            hand_off(at("1 in"), None, folder, dpi=100, overwrite=True, keep_other_sizes=True)
    assert {file: (folder / file).read_bytes() for file in files_in(folder)} == before
    assert [path.name for path in tmp_path.iterdir() if path.name != "out"] == []


@pytest.mark.parametrize("task", CHOSEN_TASKS)
def test_what_one_task_makes_is_foretold_by_kind(tmp_path, task):
    options = {"cloth": ("50 cm", "30 cm"), "sett": "64 per in", "dpi": (100, 150)}
    every = foretell(SET, None, tmp_path / "out", **options)
    told = foretell(SET, None, tmp_path / "out", tasks=task, **options)
    made = hand_off(SET, None, tmp_path / "out", tasks=task, **options)
    assert told.files == len(made.files)
    for one, other in zip(told.tasks, every.tasks, strict=True):
        asked = one.task in (task, "range")
        assert one.parts == (other.parts if asked else ())
        assert one.files == sum(part.files for part in one.parts)
        assert one.size == sum(part.size for part in one.parts)
        assert asked or one.missing == ""


def test_without_a_picture_nothing_is_said_of_resolutions():
    told = foretell(at("1/8 in"), None, "nowhere", dpi=150, tasks=["shop", "mill"], measure=False)
    assert told.cautions == ()
