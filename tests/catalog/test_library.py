"""The catalog: what ships is whole, what the user adds overrides by name, what is wrong is refused in words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import platformdirs
import pytest

from ventsize.catalog import folders
from ventsize.catalog.folders import shipped_folder, shipped_table, user_tables_folder
from ventsize.catalog.library import Catalog, UnknownName, load_catalog
from ventsize.catalog.records import larger_size, same_size
from ventsize.jobfile.problems import InputError
from ventsize.quantity import Dimension, parse


@pytest.fixture
def catalog() -> Catalog:
    return load_catalog(user=False)


@pytest.fixture
def user_tables(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The user's tables folder, empty."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    folder = tmp_path / "tables"
    folder.mkdir()
    return folder


PIPE = """
[[pipe]]
name = "{name}"
source = "measured on site"
roughness = "0.01 mm"
sizes = [ {{ nominal = "3 in", outside = "3.5 in", wall = "0.2 in" }} ]
"""


def faults(catalog: Catalog, **records: Any) -> list[str]:
    """The sentences that refuse the records."""
    with pytest.raises(InputError) as error:
        catalog.extended(**records, file="my.toml")
    return [str(problem) for problem in error.value.problems]


# What ships


def test_what_a_job_may_name_is_there(catalog: Catalog) -> None:
    """The names that jobs, tables and guides use."""
    assert {"pvc-40", "cpvc-40", "abs-40", "pp-metric", "galvanized-thin", "stainless-thin"} <= set(catalog.pipes)
    assert {
        "elbow-90-short",
        "elbow-90-long",
        "elbow-90-mitered",
        "elbow-45",
        "elbow-22",
        "tee-through",
        "tee-branch",
        "tee",
        "wye",
        "increaser",
        "reducer",
        "coupling",
        "terminal-open",
        "terminal-elbow-down",
        "terminal-screened",
        "entrance-open",
        "entrance-bell",
    } <= set(catalog.fittings)
    assert {"natural gas", "methane", "propane", "butane"} <= set(catalog.fuels)


def test_every_record_has_source_and_title(catalog: Catalog) -> None:
    """So that a result can say where it comes from, in words."""
    for records in (catalog.pipes, catalog.fittings, catalog.fuels):
        for record in records.values():
            assert record.source.strip() and record.title.strip()


def test_every_shipped_pipe_is_whole(catalog: Catalog) -> None:
    """Sizes rise, walls fit, and what heat and cold need is there."""
    for pipe in catalog.pipes.values():
        nominals = [size.nominal for size in pipe.sizes]
        assert nominals == sorted(set(nominals))
        assert all(b.bore > a.bore for a, b in zip(pipe.sizes, pipe.sizes[1:], strict=False))
        for size in pipe.sizes:
            assert 0 < size.bore <= size.outside - 2 * size.wall + 1e-6
            assert pipe.roughness < 0.05 * size.bore
        assert pipe.conductivity and pipe.expansion and pipe.temperature_limit
        assert 310 < pipe.temperature_limit < 600


def test_sizes_reach_as_far_as_vents_do(catalog: Catalog) -> None:
    """1 1/2 to 8 in for plastic by the inch, 50 to 200 mm for the metric one."""
    for name in ("pvc-40", "cpvc-40", "abs-40"):
        assert [size.label for size in catalog.pipes[name].sizes] == [
            "1 1/2 in",
            "2 in",
            "2 1/2 in",
            "3 in",
            "4 in",
            "5 in",
            "6 in",
            "8 in",
        ]
    metric = catalog.pipes["pp-metric"].sizes
    assert (metric[0].label, metric[-1].label) == ("50 mm", "200 mm")


def test_a_size_is_found_however_it_is_written(catalog: Catalog) -> None:
    """1.5 in and 1 1/2 in are one size; 80 mm is none of the inch sizes."""
    pvc = catalog.pipe("pvc-40")
    size = pvc.size(1.5 * 0.0254)
    assert size is not None and size.label == "1 1/2 in"
    assert pvc.size(0.0381) is size
    assert pvc.size(0.080) is None


def test_fractions_of_a_fuel_add_up(catalog: Catalog) -> None:
    """Exactly one, whatever the rounding of the published analysis."""
    for fuel in catalog.fuels.values():
        assert sum(fuel.mole_fractions.values()) == pytest.approx(1.0, abs=1e-12)


def test_records_cannot_be_changed(catalog: Catalog) -> None:
    """Reference data is shared by everything that is computed."""
    with pytest.raises(AttributeError):
        catalog.pipes["pvc-40"].roughness = 1.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        catalog.pipes["x"] = catalog.pipes["pvc-40"]  # type: ignore[index]
    with pytest.raises(TypeError):
        catalog.fuels["methane"].mole_fractions["methane"] = 0.5  # type: ignore[index]


def test_shipped_folders_are_found(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """From any working directory."""
    monkeypatch.chdir(tmp_path)
    assert shipped_table("pipes.toml").is_file()
    assert shipped_folder("scenarios").is_dir()


def test_the_shipped_part_is_read_once() -> None:
    """A check of many jobs does not read the tables again."""
    assert load_catalog(user=False) is load_catalog(user=False)


# The user's own and the job's own


def test_the_users_records_extend_and_override(user_tables: Path) -> None:
    """A new name is added, a known one replaced, everything else stays."""
    (user_tables / "pipes.toml").write_text(PIPE.format(name="mine") + PIPE.format(name="abs-40"))
    catalog = load_catalog()
    assert catalog.pipes["mine"].sizes[0].bore == pytest.approx(3.1 * 0.0254)
    assert catalog.pipes["abs-40"].source == "measured on site"
    assert catalog.pipes["pvc-40"] is load_catalog(user=False).pipes["pvc-40"]
    assert "mine" not in load_catalog(user=False).pipes


def test_a_damaged_file_of_the_users_is_named(user_tables: Path) -> None:
    """File, place and what is wrong, in one sentence."""
    (user_tables / "pipes.toml").write_text(PIPE.format(name="mine").replace("source", "sauce"))
    with pytest.raises(InputError) as error:
        load_catalog()
    sentence = str(error.value.problems[0])
    assert str(user_tables / "pipes.toml") in sentence
    assert "pipe 'mine'" in sentence
    assert "'sauce'" in sentence and "'source'" in sentence


def test_a_file_with_something_else_in_it(user_tables: Path) -> None:
    """A misspelt heading is not passed over."""
    (user_tables / "fittings.toml").write_text("[[fittings]]\nname = 'x'\n")
    with pytest.raises(InputError, match=r"unknown key 'fittings'.*\[\[fitting\]\]"):
        load_catalog()


def test_a_users_file_that_is_not_toml(user_tables: Path) -> None:
    """Named, and nothing of it is used."""
    (user_tables / "fuels.toml").write_bytes(b"\x00\xff\xfe")
    with pytest.raises(InputError, match="fuels.toml"):
        load_catalog()


def test_the_users_folder_may_be_missing(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Nothing is asked of a person who has no tables."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path / "none"))
    assert not user_tables_folder().exists()
    assert load_catalog() is load_catalog(user=False)


def test_a_jobs_own_records(catalog: Catalog) -> None:
    """The form of the tables, as read from a job."""
    mine = {"name": "odd-elbow", "source": "measured", "kind": "elbow", "angle": "60 deg", "loss": {"k": 0.4}}
    extended = catalog.extended(fittings=[mine], file="job.toml")
    record = extended.fitting("odd-elbow")
    assert record.loss is not None
    assert (record.loss.k_low, record.loss.k, record.loss.k_high) == (0.4, 0.4, 0.4)
    assert record.title == "odd-elbow"
    assert "odd-elbow" not in catalog.fittings
    assert catalog.extended(file="job.toml") is catalog


def test_lookup_of_an_unknown_name(catalog: Catalog) -> None:
    """The nearest known name, never a guess taken for it."""
    with pytest.raises(UnknownName, match="unknown material 'pvc40'; expected perhaps 'pvc-40'"):
        catalog.pipe("pvc40")
    with pytest.raises(UnknownName, match="unknown fitting 'elbow-90-shrt'; expected perhaps 'elbow-90-short'"):
        catalog.fitting("elbow-90-shrt")
    with pytest.raises(UnknownName, match="unknown fuel 'natural gass'; expected perhaps 'natural gas'"):
        catalog.fuel("natural gass")
    with pytest.raises(UnknownName):
        catalog.pipe("PVC-40")


# What is refused


def pipe(**change: Any) -> dict[str, Any]:
    size = {"nominal": "3 in", "outside": "3.5 in", "wall": "0.2 in"}
    record = {"name": "mine", "source": "measured", "roughness": "0.01 mm", "sizes": [size | change.pop("size", {})]}
    record |= change
    return {key: value for key, value in record.items() if value is not None}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"source": None}, "the key 'source' is missing; expected where the record comes from"),
        ({"source": "  "}, "source: it is empty"),
        ({"roughness": "-1 mm"}, "roughness"),
        ({"roughness": "45 mm"}, "size 3 in: the roughness is more than half the bore"),
        ({"sizes": []}, "it has no sizes"),
        ({"size": {"bore": "0 in"}}, "more than zero"),
        ({"size": {"wall": "1.8 in"}}, "size 3 in: the wall is thicker than the radius"),
        ({"size": {"bore": "3.6 in"}}, "size 3 in: the bore is not smaller than the outside diameter"),
        ({"size": {"bore": "2 in"}}, "size 3 in: bore, wall and outside diameter do not agree"),
        ({"sizes": [{"nominal": "3 in", "wall": "2 mm"}]}, "two of outside, wall and bore are missing"),
        ({"sizes": [{"nominal": "3", "wall": "2 mm", "bore": "3 in"}]}, "nominal"),
        ({"sizes": [{"nominal": 3, "wall": "2 mm", "bore": "3 in"}]}, "nominal"),
        ({"conductivity": "0.2 W"}, "conductivity"),
        ({"expansion": "0 1/K"}, "expansion"),
        ({"ruffness": "1 mm"}, "unknown key 'ruffness'; expected perhaps 'roughness'"),
    ],
)
def test_bad_pipes(catalog: Catalog, change: dict[str, Any], words: str) -> None:
    """One sentence, with the file and the record's name."""
    (sentence,) = faults(catalog, pipes=[pipe(**change)])
    assert sentence.startswith("my.toml: pipe 'mine'")
    assert words in sentence
    assert "\n" not in sentence


def test_one_size_twice(catalog: Catalog) -> None:
    """Written two ways it is still one size."""
    sizes = [{"nominal": n, "bore": "1.6 in", "wall": "0.1 in"} for n in ("1.5 in", "1 1/2 in")]
    (sentence,) = faults(catalog, pipes=[pipe(sizes=sizes)])
    assert "size 1 1/2 in: the size is listed twice" in sentence


@pytest.mark.parametrize("leave_out", ["outside", "wall", "bore"])
def test_the_third_dimension_follows_from_two(catalog: Catalog, leave_out: str) -> None:
    """Outside, wall and bore: any two give the third."""
    size = {"nominal": "3 in", "outside": "3.5 in", "wall": "0.2 in", "bore": "3.1 in"}
    del size[leave_out]
    made = catalog.extended(pipes=[pipe(sizes=[size])], file="my.toml").pipes["mine"].sizes[0]
    assert made.outside / 0.0254 == pytest.approx(3.5)
    assert made.wall / 0.0254 == pytest.approx(0.2)
    assert made.bore / 0.0254 == pytest.approx(3.1)


def fitting(**change: Any) -> dict[str, Any]:
    record: dict[str, Any] = {
        "name": "mine",
        "source": "measured",
        "kind": "elbow",
        "angle": "90 deg",
        "loss": {"method": "Hooper threaded 90"},
    }
    record |= change
    return {key: value for key, value in record.items() if value is not None}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"source": None}, "the key 'source' is missing"),
        ({"kind": "elbo"}, "kind"),
        ({"angle": None, "loss": {"k": 0.4}}, "the key 'angle' is missing or zero"),
        ({"angle": "200 deg", "loss": {"k": 0.4}}, "it turns more than 180 degrees"),
        ({"bend_diameters": 0.2}, "bend_diameters: 0.2 is outside the published range"),
        ({"loss": None}, "the key 'loss' is missing, which the kind 'elbow' needs"),
        ({"loss": {"k": -0.1}}, "is below zero"),
        ({"loss": {"k": 0.5, "k_low": 0.6}}, "k_low 0.6, k 0.5 and k_high 0.5 are not in order"),
        ({"loss": {"k": 0.5, "k_high": 0.4}}, "are not in order"),
        ({"loss": {"k": 0.5, "method": "Hooper threaded 90"}}, "it says neither or both of 'method' and 'k'"),
        ({"loss": {}}, "it says neither or both of 'method' and 'k'"),
        ({"loss": {"method": "Hooper threaded 90", "k_low": 0.1}}, "takes its band from 'others'"),
        ({"loss": {"k": 0.5, "others": ["Rennels bend"]}}, "a fixed k has no other methods"),
        ({"loss": {"method": "Hoper threaded 90"}}, "perhaps 'Hooper threaded 90'"),
        ({"loss": {"method": "Hooper standard 45"}}, "is for 45 degrees, not 90"),
        ({"loss": {"method": "Rennels bend"}}, "needs the key 'bend_diameters'"),
        ({"loss": {"method": "Rennels tight bend"}}, "needs the key 'tight_bend_diameters'"),
        ({"loss": {"method": "sudden expansion"}}, "is for another use"),
        ({"loss": {"method": "Swamee bend"}, "bend_diameters": 1.0}, "is not for results"),
        ({"kind": "terminal", "leaving": {"k": 1.0}}, "the key 'entering' is missing"),
    ],
)
def test_bad_fittings(catalog: Catalog, change: dict[str, Any], words: str) -> None:
    """One sentence, with the file and the record's name."""
    (sentence,) = faults(catalog, fittings=[fitting(**change)])
    assert sentence.startswith("my.toml: fitting 'mine'")
    assert words in sentence


@pytest.mark.parametrize(
    ("fractions", "words"),
    [
        ({"methane": 0.9}, "the mole fractions add up to 0.9"),
        ({"methane": 1.2, "nitrogen": -0.2}, "below zero"),
        ({}, "add up to 0"),
        ("methane", "mole_fractions"),
    ],
)
def test_bad_fuels(catalog: Catalog, fractions: Any, words: str) -> None:
    """Fractions that are no composition."""
    sentences = faults(catalog, fuels=[{"name": "mine", "source": "x", "mole_fractions": fractions}])
    assert any(words in sentence for sentence in sentences)
    assert all(sentence.startswith("my.toml: fuel 'mine'") for sentence in sentences)


def test_rounded_analysis_is_scaled(catalog: Catalog) -> None:
    """Within a thousandth it is rounding, and is made to add up."""
    record = {"name": "mine", "source": "x", "mole_fractions": {"methane": 0.9005, "nitrogen": 0.1}}
    made = catalog.extended(fuels=[record], file="my.toml").fuel("mine")
    assert sum(made.mole_fractions.values()) == pytest.approx(1.0, abs=1e-12)


def test_every_fault_is_told_at_once(catalog: Catalog) -> None:
    """Two bad records, two sentences; and nothing is added."""
    bad = [pipe(source=None), pipe(name="other", roughness="45 mm")]
    assert len(faults(catalog, pipes=bad, fittings=[fitting(loss={})])) == 3


@pytest.mark.parametrize("raw", [3, "pvc", None, [], {"name": 5}, {"name": ""}])
def test_what_is_no_record_at_all(catalog: Catalog, raw: Any) -> None:
    """Still a sentence, with its number for a name."""
    assert faults(catalog, pipes=[raw])[0].startswith("my.toml: pipe 1")


def test_two_records_of_one_name(catalog: Catalog) -> None:
    """In one file it is a mistake; between files the later one counts."""
    (sentence,) = faults(catalog, pipes=[pipe(), pipe()])
    assert "pipe 'mine': two records have this name" in sentence


@pytest.mark.parametrize("two", [("1 1/2 in", "38.1 mm"), ("2 in", "50.8 mm"), ("2 in", "3 in"), ("80 mm", "3 in")])
def test_a_size_is_the_same_or_one_is_larger(two: tuple[str, str]) -> None:
    """An inch is 25.4 mm (by definition): whichever unit a size was typed in, it is one size, smaller or larger."""
    one, other = (parse(text, Dimension.LENGTH) for text in two)
    alike = round(one * 1e4) == round(other * 1e4)
    assert same_size(one, other) is same_size(other, one) is alike
    assert larger_size(one, other) is (not alike and one > other)
    assert larger_size(other, one) is (not alike and other > one)


@pytest.mark.parametrize("raised", [True, False])
def test_whoever_has_no_home_has_no_folder(raised: bool, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A service account: nothing is kept, nothing is found, and everything else works. Releases of platformdirs
    differ in how they say so."""

    def nobody(*_: object, **__: object) -> Path:
        if raised:
            raise RuntimeError("could not determine the home directory")
        return Path("~/.config/ventsize")

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(platformdirs, "user_config_path", nobody)
    monkeypatch.setattr(platformdirs, "user_documents_path", nobody)
    assert load_catalog().fuels
    for folder in (folders.user_folder(), folders.user_tables_folder(), folders.user_jobs_folder()):
        with pytest.raises(OSError):
            folder.mkdir(parents=True)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_in_nobodys_home() -> None:
    """A ~name in the settings that is no user's ended every verb."""
    folders.user_folder().mkdir(parents=True)
    folders.settings_file().write_text('[folders]\ntables = "~no-such-user-here/tables"\n', encoding="utf-8")
    assert load_catalog().fuels
