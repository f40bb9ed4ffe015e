"""`python -m tests.fuzz [FILES] [SEED]`: so many made-up files read, on all cores; what breaks is kept in found/.

Each must be answered or refused in a sentence: no traceback, no more than 2 s of CPU time, no more than 300 MB in
any process.
"""

from __future__ import annotations

import hashlib
import multiprocessing
import os
import sys
import time
from collections import Counter
from functools import partial
from pathlib import Path

from tests.fuzz.trying import MOST_MB, Found, chunk

FILES = 200_000
CHUNK = 2_500
FOUND = Path(__file__).parent / "found"


def main(files: int, seed: str) -> int:
    """Run them, and tell what came of it. 1 where anything broke."""
    began, most, count = time.monotonic(), 0, Counter[str]()
    seeds = [f"{seed}.{number}" for number in range(-(-files // CHUNK))]
    with multiprocessing.get_context("spawn").Pool(os.cpu_count(), maxtasksperchild=1) as pool:
        for number, (memory, found) in enumerate(pool.imap_unordered(partial(chunk, number=CHUNK), seeds), start=1):
            most = max(most, memory)
            for one in found:
                keep(one)
                count[f"{one.target}: {one.fault.strip().splitlines()[-1]}"[:150]] += 1
            print(f"{number * CHUNK:,} files, {sum(count.values())} found, {most} MB", flush=True)
    for what, times in count.most_common():
        print(f"{times:6} {what}")
    print(f"{len(seeds) * CHUNK:,} files in {time.monotonic() - began:.0f} s; at most {most} MB in a process")
    return int(bool(count) or most > MOST_MB)


def keep(found: Found) -> None:
    """Write what broke something to a file of its own, one for each way to break."""
    FOUND.mkdir(exist_ok=True)
    how = hashlib.sha256("".join(found.fault.splitlines()[-3:]).encode()).hexdigest()[:8]
    path = FOUND / f"{found.target.replace(' ', '-')}-{how}.txt"
    if not path.exists():
        path.write_bytes(found.text.encode("utf-8", "surrogatepass"))
        path.with_suffix(".why").write_text(found.fault, encoding="utf-8")


if __name__ == "__main__":
    words = sys.argv[1:]
    sys.exit(main(int(words[0]) if words else FILES, words[1] if len(words) > 1 else "1"))
