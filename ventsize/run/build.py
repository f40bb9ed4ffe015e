"""A job's runs as typed, resolved against the catalog into pieces that can be solved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from ventsize.catalog.library import Catalog, UnknownName
from ventsize.catalog.records import FittingRecord, PipeRecord
from ventsize.finding import Finding, Where
from ventsize.jobfile import job as typed
from ventsize.jobfile.headings import rise_of, says_rise
from ventsize.jobfile.problems import InputError, Problem
from ventsize.run import geometry
from ventsize.run.model import Piece, Run, Section


class Parts:
    """What was made for one run, kept for other variants of it: a piece typed once is made once.

    Variants are alike where they share the very same typed pieces (`dataclasses.replace` keeps them). A Parts
    belongs to one run of one job.
    """

    def __init__(self) -> None:
        self.sections: dict[tuple[str, float], Section] = {}
        self.pieces: dict[tuple[int, int, float, int], _Made] = {}


class _Made(NamedTuple):
    """The pieces of a typed piece, the size after it, and what was found. It keeps `typed` alive."""

    typed: typed.PipePiece | typed.FittingPiece
    pieces: tuple[Piece, ...]
    size: float
    findings: tuple[Finding, ...]


def build_run(run: typed.Run, *, catalog: Catalog, file: str, parts: Parts | None = None) -> Run:
    """The run with every name looked up and every section known.

    parts: what was made for other variants of this run.

    Raises InputError where a fitting, material or size is not in the catalog, where a pipe or an
    elbow cannot lie as it is said to, and where an end of pipe is not at an end.
    """
    return _Builder(run, catalog, file, parts or Parts()).run()


class _Builder:
    """Walks one typed run, keeping the size it has come to; a material given on a piece is that piece's alone."""

    def __init__(self, run: typed.Run, catalog: Catalog, file: str, parts: Parts) -> None:
        self._typed = run
        self._catalog = catalog
        self._file = file
        self._place = f"run '{run.name}'"
        self._usual = self._pipe_record(run.material, f"{self._place}, material")
        self._parts = parts
        self._sections = parts.sections
        self._section = self._section_of(self._usual, run.size, f"{self._place}, size")
        self._size = self._section.nominal
        self._findings: list[Finding] = []

    def run(self) -> Run:
        pieces = list(self._counted()) if self._typed.counted else self._laid_out()
        self._check_ends(pieces)
        pieces = self._with_open_end(pieces)
        return Run(
            name=self._typed.name,
            carries=self._typed.carries,
            start=self._typed.between[0],
            end=self._typed.between[1],
            pieces=tuple(pieces),
            counted=self._typed.counted,
            rise_known=not self._typed.counted or self._typed.rise is not None,
            table=self._typed.table,
            findings=tuple(self._findings),
            unturned=geometry.turns_not_made(geometry.spans(pieces), Where(run=self._typed.name)),
        )

    # What the run consists of

    def _laid_out(self) -> list[Piece]:
        known = self._parts.pieces
        found: list[Piece] = []
        for number, piece in enumerate(self._typed.pieces or (), start=1):
            key = (id(piece), number, self._size, id(self._usual))
            made = known.get(key)
            if made is None:
                made = known[key] = self._make(number, piece)
            self._size = made.size
            self._findings += made.findings
            found += made.pieces
        return found

    def _make(self, number: int, piece: typed.PipePiece | typed.FittingPiece) -> _Made:
        before = len(self._findings)
        pieces = tuple(replace(made, number=number) for made in self._pieces_of(number, piece))
        findings = tuple(self._findings[before:])
        del self._findings[before:]
        return _Made(piece, pieces, pieces[-1].after.nominal, findings)

    def _pieces_of(self, number: int, piece: typed.PipePiece | typed.FittingPiece) -> Iterator[Piece]:
        place = f"{self._place}, piece {number}"
        own = self._usual if piece.material is None else self._pipe_record(piece.material, place)
        lacks_size = piece.size is not None and own.size(self._size) is None  # a liner may begin at an increaser
        self._section = self._section_of(self._usual if lacks_size else own, self._size, place)
        if isinstance(piece, typed.PipePiece):
            if piece.size is not None:
                yield from self._unlisted_change(number, own, piece.size, place)
            yield self._pipe(piece, place)
        else:
            made = self._fitting(number, piece, own, place)
            yield from (replace(p, drain=True) for p in made) if piece.drain else made

    def _counted(self) -> Iterator[Piece]:
        run = self._typed
        straight = run.straight or 0.0
        rise = run.rise or 0.0
        if abs(rise) > straight:
            raise self._fault(f"{self._place}, rise", "it rises further than its straight pipe is long", "less")
        yield Piece(
            name="pipe",
            place=self._place,
            before=self._section,
            after=self._section,
            length=straight,
            rise=rise,
            rise_known=run.rise is not None,
            surroundings=run.surroundings,
            insulation=run.insulation,
        )
        for name, count in (run.fittings or {}).items():
            place = f"{self._place}, {name}"
            record = self._fitting_record(name, place)
            if record.kind == "size change":
                raise self._fault(place, "a counted run has one size", "a laid-out run, with 'pieces'")
            yield from [self._same_size(record, place)] * count

    def _pipe(self, piece: typed.PipePiece, place: str) -> Piece:
        try:
            rise = rise_of(length=piece.pipe, heading=piece.heading, rise=piece.rise)
        except ValueError as error:
            raise InputError(Problem(self._file, place, str(error))) from None
        return Piece(
            name="pipe",
            place=place,
            before=self._section,
            after=self._section,
            length=piece.pipe,
            rise=rise,
            rise_known=says_rise(heading=piece.heading, rise=piece.rise),
            heading=piece.heading,
            surroundings=piece.surroundings or self._typed.surroundings,
            insulation=piece.insulation or self._typed.insulation,
            drain=piece.drain,
        )

    def _fitting(self, number: int, piece: typed.FittingPiece, own: PipeRecord, place: str) -> Iterator[Piece]:
        record = self._fitting_record(piece.fitting, place)
        if record.kind == "size change":
            yield self._size_change(record, piece, own, place)
            return
        if piece.size is not None:
            yield from self._unlisted_change(number, own, piece.size, place)
        yield self._same_size(record, place, k=piece.k, table_length=piece.table_length)

    def _same_size(
        self, record: FittingRecord, place: str, *, k: float | None = None, table_length: float | None = None
    ) -> Piece:
        return Piece(
            name=record.name,
            place=place,
            before=self._section,
            after=self._section,
            fitting=record,
            k=k,
            table_length=table_length,
        )

    def _size_change(self, record: FittingRecord, piece: typed.FittingPiece, own: PipeRecord, place: str) -> Piece:
        if piece.size is None:
            raise self._fault(place, f"the {record.name} does not say to which size", "size = '4 in' or the like")
        before, after = self._section, self._section_of(own, piece.size, place)
        if after.nominal == before.nominal:
            raise self._fault(place, f"the {record.name} leaves the size at {before.label}", "another size")
        grows = after.nominal > before.nominal
        if record.becomes not in (None, "larger" if grows else "smaller"):
            problem = f"the {record.name} goes from {before.label} to {after.label}"
            raise self._fault(place, problem, f"a size {record.becomes} than {before.label}")
        return Piece(
            name=record.name,
            place=place,
            before=before,
            after=after,
            fitting=record,
            k=piece.k,
            table_length=piece.table_length,
        )

    def _unlisted_change(self, number: int, own: PipeRecord, size: float, place: str) -> Iterator[Piece]:
        """A change of size with no fitting listed for it: counted as a sudden one, with a caution."""
        before, after = self._section, self._section_of(own, size, place)
        self._section = after
        if before.nominal == after.nominal:
            return
        name = "increaser" if after.nominal > before.nominal else "reducer"
        values = {"before": before.label, "after": after.label, "fitting": name}
        self._findings.append(Finding("size-change-implied", Where(run=self._typed.name, piece=number), values))
        record = self._fitting_record(name, place)
        yield Piece(name=name, place=place, before=before, after=after, fitting=record, implied=True)

    # Its ends

    def _check_ends(self, pieces: list[Piece]) -> None:
        ends = {"first": pieces[0], "last": pieces[-1]}
        outdoors = [end for end, joint in zip(ends, self._typed.between, strict=True) if joint == typed.OUTDOORS]
        found = [p for p in pieces if p.fitting is not None and p.fitting.kind in ("terminal", "entrance")]
        inlet = next((piece for piece in found if piece.kind == "entrance"), None)
        if inlet is not None and self._typed.carries == "flue gas":
            raise self._fault(inlet.place, f"the {inlet.name} lets air in, and this run carries flue gas", "a terminal")
        if self._typed.counted:
            if len(found) > 1:
                raise self._fault(self._place, f"it counts {len(found)} ends of pipe", "one, at its outdoor end")
            if found and not outdoors:
                raise self._fault(found[0].place, "the run does not reach outdoors", "no terminal on this run")
            return
        for piece in found:
            if not any(ends[end] is piece for end in outdoors):
                joints = " and ".join(f"'{joint}'" for joint in self._typed.between)
                problem = f"the {piece.name} is not at an open end; this run goes between {joints}"
                raise self._fault(piece.place, problem, f"a terminal only where the run meets '{typed.OUTDOORS}'")

    def _with_open_end(self, pieces: list[Piece]) -> list[Piece]:
        """With a plain open end where the run reaches outdoors and lists no terminal, be that last or first."""
        if typed.OUTDOORS not in self._typed.between:
            return pieces
        first = self._typed.between[0] == typed.OUTDOORS
        at_the_end = pieces if self._typed.counted else [pieces[0 if first else -1]]
        if any(piece.kind in ("terminal", "entrance") for piece in at_the_end):
            return pieces
        self._findings.append(Finding("open-end-implied", Where(run=self._typed.name)))
        section = pieces[0].before if first else pieces[-1].after
        record = self._fitting_record("terminal-open", self._place)
        place = f"{self._place}, outdoor end"
        end = Piece(name=record.name, place=place, before=section, after=section, fitting=record, implied=True)
        return [end, *pieces] if first else [*pieces, end]

    # Names looked up

    def _section_of(self, material: PipeRecord, nominal: float, place: str) -> Section:
        size = material.size(nominal)
        if size is None:
            known = ", ".join(s.label for s in material.sizes)
            raise self._fault(place, f"{material.name} has no such size", f"one of: {known}")
        key = (material.name, size.nominal)
        if key not in self._sections:
            self._sections[key] = Section(material=material, size=size)
        return self._sections[key]

    def _pipe_record(self, name: str, place: str) -> PipeRecord:
        try:
            return self._catalog.pipe(name)
        except UnknownName as error:
            raise self._fault(place, error.problem, error.expected) from None

    def _fitting_record(self, name: str, place: str) -> FittingRecord:
        try:
            return self._catalog.fitting(name)
        except UnknownName as error:
            raise self._fault(place, error.problem, error.expected) from None

    def _fault(self, place: str, problem: str, expected: str) -> InputError:
        return InputError(Problem(self._file, place, problem, expected))
