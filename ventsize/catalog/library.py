"""The catalog: the shipped records, the user's own over them, and a job's own over those."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from ventsize.catalog.fittings import FittingEntry, fitting_faults, fitting_record
from ventsize.catalog.folders import shipped_table, user_tables_folder
from ventsize.catalog.fuels import FuelEntry, fuel_faults, fuel_record
from ventsize.catalog.pipes import PipeEntry, pipe_faults, pipe_record
from ventsize.catalog.properties import Fault
from ventsize.catalog.records import FittingRecord, FuelRecord, PipeRecord
from ventsize.jobfile.document import nearest, read_toml, validate
from ventsize.jobfile.problems import InputError, Problem

Record = TypeVar("Record", PipeRecord, FittingRecord, FuelRecord)

PIPES, FITTINGS, FUELS = "pipes.toml", "fittings.toml", "fuels.toml"


class UnknownName(LookupError):
    """A name the catalog does not hold. The message is one sentence; `expected` names what is nearest."""

    def __init__(self, kind: str, name: str, known: Mapping[str, Any]) -> None:
        self.problem = f"unknown {kind} '{name:.40}'"
        self.expected = nearest(name, known)
        super().__init__(f"{self.problem}; expected {self.expected}")


@dataclass(frozen=True, slots=True)
class Catalog:
    """Reference data by name."""

    pipes: Mapping[str, PipeRecord]
    fittings: Mapping[str, FittingRecord]
    fuels: Mapping[str, FuelRecord]

    def pipe(self, name: str) -> PipeRecord:
        """The material of this exact name. Raises UnknownName with the nearest known one."""
        return _found(self.pipes, "material", name)

    def fitting(self, name: str) -> FittingRecord:
        """The fitting of this exact name. Raises UnknownName with the nearest known one."""
        return _found(self.fittings, "fitting", name)

    def fuel(self, name: str) -> FuelRecord:
        """The fuel of this exact name. Raises UnknownName with the nearest known one."""
        return _found(self.fuels, "fuel", name)

    def extended(
        self,
        *,
        pipes: Sequence[Any] = (),
        fittings: Sequence[Any] = (),
        fuels: Sequence[Any] = (),
        file: str,
    ) -> Catalog:
        """This catalog with more records, in the form of the tables; they override by name.

        Raises InputError with every fault found, naming the file and the record.
        """
        if not (pipes or fittings or fuels):
            return self
        faults: list[Problem] = []
        more_pipes = _read_all("pipe", pipes, _one_pipe, file, faults)
        more_fittings = _read_all("fitting", fittings, _one_fitting, file, faults)
        more_fuels = _read_all("fuel", fuels, _one_fuel, file, faults)
        if faults:
            raise InputError(faults)
        return replace(
            self,
            pipes=MappingProxyType({**self.pipes, **more_pipes}),
            fittings=MappingProxyType({**self.fittings, **more_fittings}),
            fuels=MappingProxyType({**self.fuels, **more_fuels}),
        )


def load_catalog(*, user: bool = True) -> Catalog:
    """The shipped catalog, with the user's own records over it unless `user` is False.

    Raises InputError where one of the files cannot be read or a record in it is not usable.
    """
    catalog = _shipped()
    if not user:
        return catalog
    folder = user_tables_folder()
    for name in (PIPES, FITTINGS, FUELS):
        if (folder / name).exists():
            catalog = _with_file(catalog, folder / name)
    return catalog


@lru_cache(maxsize=1)
def _shipped() -> Catalog:
    nothing: Mapping[str, Any] = MappingProxyType({})
    catalog = Catalog(pipes=nothing, fittings=nothing, fuels=nothing)
    for name in (PIPES, FITTINGS, FUELS):
        catalog = _with_file(catalog, shipped_table(name))
    return catalog


def _with_file(catalog: Catalog, path: Path) -> Catalog:
    data = read_toml(path)
    kind = path.stem.removesuffix("s")
    for key, value in data.items():
        if key != kind or not isinstance(value, list):
            problem = f"unknown key '{key:.40}'" if key != kind else f"'{kind}' is not a list of records"
            raise InputError(Problem(str(path), "", problem, f"records that begin with [[{kind}]]"))
    return catalog.extended(**{f"{kind}s": data.get(kind, [])}, file=str(path))


def _found(records: Mapping[str, Record], kind: str, name: str) -> Record:
    try:
        return records[name]
    except KeyError:
        raise UnknownName(kind, name, records) from None


def _one_pipe(raw: Any, file: str, place: str) -> tuple[Iterator[Fault], Callable[[], PipeRecord]]:
    entry = validate(raw, PipeEntry, file=file, place=place)
    return pipe_faults(entry), lambda: pipe_record(entry)


def _one_fitting(raw: Any, file: str, place: str) -> tuple[Iterator[Fault], Callable[[], FittingRecord]]:
    entry = validate(raw, FittingEntry, file=file, place=place)
    return fitting_faults(entry), lambda: fitting_record(entry)


def _one_fuel(raw: Any, file: str, place: str) -> tuple[Iterator[Fault], Callable[[], FuelRecord]]:
    entry = validate(raw, FuelEntry, file=file, place=place)
    return fuel_faults(entry), lambda: fuel_record(entry)


def _read_all(
    kind: str,
    raws: Sequence[Any],
    read_one: Callable[[Any, str, str], tuple[Iterator[Fault], Callable[[], Record]]],
    file: str,
    problems: list[Problem],
) -> dict[str, Record]:
    """The records by name; what is wrong with any of them is added to `problems`."""
    records: dict[str, Record] = {}
    for number, raw in enumerate(raws, start=1):
        name = raw.get("name") if isinstance(raw, Mapping) else None
        place = f"{kind} '{name:.40}'" if isinstance(name, str) and name.strip() else f"{kind} {number}"
        try:
            faults, make = read_one(raw, file, place)
        except InputError as error:
            problems += error.problems
            continue
        found = [
            Problem(file, ", ".join(part for part in (place, where) if part), problem, expected)
            for where, problem, expected in faults
        ]
        if found:
            problems += found
            continue
        record = make()
        if record.name in records:
            problems.append(Problem(file, place, "two records have this name", "each name once"))
        records[record.name] = record
    return records
