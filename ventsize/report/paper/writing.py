"""Papers written to files: each whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Literal

from ventsize.jobfile.atomic_write import write_whole
from ventsize.jobfile.document import read_toml
from ventsize.jobfile.problems import InputError, Refused
from ventsize.jobfile.visits import ENDING
from ventsize.report.paper.blocks import Paper, Size

Kind = Literal["html", "pdf", "markdown", "csv"]
_OURS = (".toml", ENDING)
KINDS: tuple[Kind, ...] = ("html", "pdf", "markdown", "csv")


class PaperNotWritten(Refused):
    """A file that could not be written; what was there is as it was. The text says which, and why."""


def rendered(paper: Paper, kind: Kind, *, size: Size = "letter") -> bytes:
    """The content of a file of that kind."""
    if kind == "html":
        from ventsize.report.paper.as_html import html

        return html(paper, size=size).encode()
    if kind == "pdf":
        from ventsize.report.paper.as_pdf import pdf

        return pdf(paper, size=size)
    if kind == "markdown":
        from ventsize.report.paper.as_markdown import markdown

        return markdown(paper).encode()
    from ventsize.report.paper.as_csv import csv_text

    return b"\xef\xbb\xbf" + csv_text(paper).encode()  # the mark by which spreadsheets know UTF-8


def write(
    paper: Paper,
    files: Mapping[Kind, Path],
    *,
    size: Size = "letter",
    replace: bool = False,
    keep: Iterable[Path] = (),
    written: Callable[[Path], None] | None = None,
) -> None:
    """Write a paper to files. All are made before the first is written. Raises PaperNotWritten.

    replace: whether a file that is there already may be replaced. keep: files that are not in any case, such as the
    job itself. written: told each file as it is done.
    """
    taken = {path.resolve(): "it is what the paper is made from" for path in keep}
    for path in files.values():
        if (why := taken.get(path.resolve())) is not None:
            raise PaperNotWritten(f"{path}: {why}; choose another name")
        taken[path.resolve()] = "it is named twice"
        _refuse(path, replace)
    contents = {path: rendered(paper, kind, size=size) for kind, path in files.items()}
    for path, content in contents.items():
        _put(path, content, replace)
        if written is not None:
            written(path)


def _refuse(path: Path, replace: bool) -> None:
    if path.is_dir():
        raise PaperNotWritten(f"{path}: it is a folder; expected the name of a file")
    if not path.parent.is_dir():
        raise PaperNotWritten(f"{path}: there is no folder {path.parent}")
    if not path.exists() and not path.is_symlink():
        return
    if not path.is_file():
        raise PaperNotWritten(f"{path}: it is not an ordinary file; choose another name")
    if not replace:
        raise PaperNotWritten(f"{path}: the file is there already; choose another name, or have it replaced")
    if _is_ours(path):
        raise PaperNotWritten(f"{path}: it is a job, its visits or a table, and no paper replaces it; another name")


def _is_ours(path: Path) -> bool:
    """Whether a file is a job, a table, visits, settings or the like: by its name, or by what stands in it."""
    if path.resolve().suffix.lower() in _OURS or path.suffix.lower() in _OURS:
        return True
    try:
        return bool(read_toml(path))
    except InputError:
        return False


def _put(path: Path, content: bytes, replace: bool) -> None:
    try:
        write_whole(path.resolve(), content, fresh=not replace)
    except FileExistsError:
        raise PaperNotWritten(f"{path}: the file is there already; choose another name") from None
    except OSError as error:
        raise PaperNotWritten(f"{path}: {error.strerror or error}") from None
