"""Coverage-guided fuzzing of every reader, with atheris; says what it tried and found.

    pip install atheris
    PYTHONPATH=kit python tests/bench/fuzz_readers.py --runs 200000 palette

Reader names are those of ``tests/hostile/readers.py``. A run that ends in anything but a
result or the kit's own error, or takes over a second, is written to ``tests/hostile/found``
as ``<reader>-<start of its SHA-256>``, where the tests pick it up.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
import tempfile
import time
import warnings
from pathlib import Path

import atheris

HOSTILE = Path(__file__).resolve().parents[1] / "hostile"
sys.path.insert(0, str(HOSTILE))

with atheris.instrument_imports(
    include=["checkcloth", "json", "csv", "PIL", "coloraide", "fractions", "xsdata"]
):
    from readers import READERS

    import checkcloth  # noqa: F401

from checkcloth.errors import CheckclothError  # noqa: E402


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("reader", choices=READERS)
    options.add_argument("--runs", type=int, default=100_000)
    chosen = options.parse_args()
    file_name, reader, seeds = READERS[chosen.reader]
    folder = Path(tempfile.mkdtemp(prefix="fuzz-"))
    corpus = folder / "corpus"
    corpus.mkdir()
    for number, seed in enumerate(seeds):
        (corpus / str(number)).write_bytes(seed)
    found = HOSTILE / "found"
    slowest = 0.0

    def one(data: bytes) -> None:
        nonlocal slowest
        file = folder / file_name
        file.write_bytes(data)
        start = time.perf_counter()
        try:
            reader(file)
        except CheckclothError:
            pass
        except Exception:
            _keep(data)
            raise
        took = time.perf_counter() - start
        slowest = max(slowest, took)
        if took > 1:
            _keep(data)
            raise RuntimeError(f"took {took:.1f} s")

    def _keep(data: bytes) -> None:
        found.mkdir(exist_ok=True)
        name = f"{chosen.reader}-{hashlib.sha256(data).hexdigest()[:12]}"
        (found / name).write_bytes(data)
        print(f"kept {name} (slowest so far {slowest:.3f} s)")

    warnings.simplefilter("ignore")
    atheris.Setup(
        [
            sys.argv[0],
            f"-runs={chosen.runs}",
            "-max_len=4096",
            "-rss_limit_mb=3000",
            f"-artifact_prefix={folder}/",
            str(corpus),
        ],
        one,
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main()
