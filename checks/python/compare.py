"""Makes every table again and compares it with the one committed.

    python compare.py

Each `make_*.py` here runs in a copy of the folders it reads and writes, so nothing committed
changes. Words must be equal; numbers within 1e-6 of their size, or 1e-8, since another processor
may round the last digits otherwise. Comment lines hold versions and may differ.
"""

import concurrent.futures
import os
import pathlib
import shutil
import struct
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
FOLDERS = ["checks", "crates/form/tests/meshes", "examples"]
RELATIVE, ABSOLUTE = 1e-6, 1e-8


def same(old, new):
    """Whether two cells say the same."""
    try:
        a, b = float(old), float(new)
    except ValueError:
        return old == new
    return abs(a - b) <= max(ABSOLUTE, RELATIVE * abs(a))


def cells(path):
    """(place, cell) of a table, in order."""
    lines = [line for line in path.read_text().splitlines() if not line.startswith("#")]
    return [(f"row {row}, column {column}", cell.strip())
            for row, line in enumerate(lines, 1)
            for column, cell in enumerate(line.split(","), 1)]


def corners(path):
    """(place, number) of a binary STL file, in order."""
    data = path.read_bytes()[84:]
    return [(f"facet {facet}, number {number}", str(value))
            for facet, record in enumerate(struct.iter_unpack("<12fH", data))
            for number, value in enumerate(record)]


def differences(old, new):
    """Sentences, one a difference."""
    read = corners if old.suffix == ".stl" else cells
    before, after = read(old), read(new)
    if len(before) != len(after):
        return [f"{old.name}: {len(before)} entries committed, {len(after)} made now"]
    return [f"{old.name}, {place}: {a} committed, {b} made now"
            for (place, a), (_, b) in zip(before, after) if not same(a, b)]


def main():
    makers = sorted(p.name for p in (ROOT / "checks/python").glob("make_*.py"))
    found, compared = [], 0
    with tempfile.TemporaryDirectory() as temporary:
        copy = pathlib.Path(temporary)
        for folder in FOLDERS:
            shutil.copytree(ROOT / folder, copy / folder)
        committed = [p for f in FOLDERS for p in sorted((ROOT / f).iterdir())
                     if p.suffix in (".csv", ".stl")]
        copies = {p: copy / p.relative_to(ROOT) for p in committed}
        for path in copies.values():
            path.chmod(0o644)
        stamps = {p: c.stat().st_mtime_ns for p, c in copies.items()}
        # Each writes tables of its own: side by side, with one thread each, and where it stands: some write beneath the current folder.
        single = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as side_by_side:
            run = lambda maker: subprocess.run(  # noqa: E731
                [sys.executable, copy / "checks/python" / maker], check=True, cwd=copy, env=single,
                stdout=subprocess.DEVNULL)
            list(side_by_side.map(run, makers))
        for path, made in copies.items():
            if made.stat().st_mtime_ns != stamps[path]:
                compared += 1
                found += differences(path, made)
    for line in found[:20]:
        print(line)
    print(f"{len(makers)} scripts made {compared} files again: {len(found)} numbers differ")
    sys.exit(1 if found or compared == 0 else 0)


if __name__ == "__main__":
    main()
