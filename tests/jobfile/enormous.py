"""Job files that would cost memory, time or paper without end, each by its name; run alone, each is read in turn.

    python -m tests.jobfile.enormous

One line each: name, lines of faults told, CPU time [s], and the most memory that the process has had so far [MB].
"""

from __future__ import annotations

import time
from collections.abc import Callable

JOB = """title = "x"
[site]
altitude = "620 ft"
[[appliance]]
name = "heater"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"
excess_air = 0.35
flue_temperature = "110 degF"
"""
RUN = """[[run]]
name = "vent"
carries = "flue gas"
between = ["heater", "outdoors"]
size = "3 in"
material = "pvc-40"
"""
COUNTED = 'straight = "3 ft"\n'


def with_pieces(pieces: str) -> str:
    """A job with these pieces."""
    return f"{JOB}{RUN}pieces = [{pieces}]\n"


def with_input(text: str) -> str:
    """A job whose appliance burns so much."""
    return JOB.replace("80 kBtu/h", text) + RUN + COUNTED


BAD: dict[str, Callable[[], str]] = {
    "dots, 20 kB": lambda: "a." * 10_000 + "a = 1\n",
    "dots, 400 kB": lambda: "a." * 200_000 + "a = 1\n",
    "dots apart": lambda: "a . " * 10_000 + "a = 1\n",
    "dots in quotes": lambda: "'a'.\"b\"." * 10_000 + "a = 1\n",
    "dots in a header": lambda: "[" + "a." * 200_000 + "a]\n",
    "dots in a table in a line": lambda: "x = {" + "a." * 200_000 + "a = 1}\n",
    "many short dotted keys": lambda: "".join(f"k{n}.b.c.d.e = 1\n" for n in range(150_000)),
    "many short dotted headers": lambda: "".join(f"[k{n}.b.c.d.e]\n" for n in range(150_000)),
    "unknown keys, 250,000": lambda: "".join(f"k{n}=1\n" for n in range(250_000)),
    "unknown keys, 1,900": lambda: JOB + RUN + COUNTED + "".join(f"sitte{n}=1\n" for n in range(1_900)),
    "runs of unknown keys": lambda: JOB + "[[run]]\nnmae = 1\n" * 499,
    "pieces of unknown keys": lambda: with_pieces("{pipe = '1 fot', heading = 'upp', sizee = '3'}," * 19_000),
    "pieces of no kind": lambda: with_pieces("{pipee = '1 ft'}," * 19_000),
    "pieces that are none": lambda: with_pieces("1," * 19_000),
    "lists in lists": lambda: "a = " + "[" * 100_000 + "]" * 100_000,
    "tables in tables": lambda: "a = " + "{a = " * 3_000 + "1" + "}" * 3_000,
    "empty lists": lambda: "a = [" + "[]," * 1_300_000 + "]",
    "dates": lambda: "a = [" + "1979-05-27T07:32:00Z," * 150_000 + "]",
    "a number of a million digits": lambda: "a = " + "9" * 1_000_000,
    "one in base 16": lambda: "excess_air = 0x" + "f" * 1_000_000,
    "a million letters": lambda: JOB.replace('"x"', f'"{"x" * 1_000_000}"') + RUN + COUNTED,
    "a long note": lambda: f'note = "{"x y " * 500_000}"\n' + JOB + RUN + COUNTED,
    "a long key": lambda: "a" * 3_000_000 + " = 1",
    "quotes without end": lambda: 'a = """' + '\\"""' * 300_000,
    "spaces": lambda: " " * 3_900_000 + "x",
    "brackets": lambda: "[\n" * 1_900_000,
    "digits": lambda: with_input("8" * 1_900 + " kBtu/h"),
    "an exponent": lambda: with_input("8e" + "9" * 1_900 + " kBtu/h"),
    "powers": lambda: with_input("9**9**9**9 kBtu/h"),
    "parentheses": lambda: with_input("(" * 900 + "1" + ")" * 900 + " kBtu/h"),
    "lines": lambda: "\n" * 3_900_000,
}


def main() -> None:
    """Read them all."""
    import resource

    from tests.memory import peak_memory
    from ventsize.jobfile.job import job_from_text
    from ventsize.jobfile.problems import InputError

    resource.setrlimit(resource.RLIMIT_AS, (2_000_000_000, 2_000_000_000))
    for name, make in BAD.items():
        text = make()
        began = time.process_time()
        try:
            job_from_text(text, file="job.toml")
            told = ""
        except InputError as error:
            told = str(error)
        spent = time.process_time() - began
        most = peak_memory() // 1024
        print(f"{name}\t{len(told.splitlines())}\t{spent:.2f}\t{most}")


if __name__ == "__main__":
    main()
