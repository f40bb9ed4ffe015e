"""What a path typed into the file picker means."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.screens import running, scenario, until
from ventsize.tui.widgets.file_picker import FilePicker, meant


@pytest.mark.parametrize("text", ["/", "~", "..", "../", ".", "x/", "~/", ""])
def test_a_folder_gets_no_ending(text: str, tmp_path: Path) -> None:
    """A path that is only begun, such as a slash, is a folder; nothing is added to it, and nothing breaks."""
    assert meant(text, tmp_path, ".toml").suffix == ""


def test_a_bare_name_lies_in_the_folder(tmp_path: Path) -> None:
    """With the ending it was typed without; an absolute path stands as it is."""
    assert meant("job", tmp_path, ".toml") == tmp_path / "job.toml"
    assert meant(str(tmp_path / "other.toml"), Path("/"), ".toml") == tmp_path / "other.toml"


async def test_an_absolute_path_can_be_typed_to_save_to(tmp_path: Path) -> None:
    """Letter by letter, from the slash on."""
    chosen: list[Path | None] = []
    async with running(scenario("simple-pass")) as (app, pilot):
        app.push_screen(FilePicker("Save", tmp_path, saving=True), chosen.append)
        await until(pilot, lambda: isinstance(app.screen, FilePicker))
        target = tmp_path / "mine.toml"
        for letter in str(target):
            await pilot.press({"/": "slash", ".": "full_stop", "-": "minus", "_": "underscore"}.get(letter, letter))
        await pilot.press("enter")
        await until(pilot, lambda: chosen)
        assert chosen == [target]
