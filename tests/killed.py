"""Command: kill the delivery of lessons and the writing of files at any moment, and look at what is left.

    python -m tests.killed --launches 300 --writes 300

After each kill every file must be whole, as it was, or not there, and the next launch must bring all and say so
truthfully. The short form is in `tests/test_launcher.py`.
"""

from __future__ import annotations

import argparse
import random
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from rollcalc import launcher
from rollcalc.rolling.machine.writer import demo_machine_text
from rollcalc.stock.files import UNFINISHED

LAUNCH = "import sys; from pathlib import Path; from rollcalc import launcher as l; print('on', flush=True); " \
         "l.delivered_lessons(l.lesson_source(), Path(sys.argv[1])); print('done', flush=True)"
WRITE = "import sys; from pathlib import Path; from rollcalc.stock.files import put_bytes; print('on', flush=True)\n" \
        "while True: put_bytes(Path(sys.argv[1]), sys.argv[2].encode() * 200_000, overwrite=sys.argv[3] == '1')\n"
OWN = "a learner's own notes, longer than nothing"


def killed_after(code: str, seconds: float, *words: str) -> None:
    """Run a program and kill it so many seconds after it says that it has begun."""
    command = [sys.executable, "-c", code, *words]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as run:
        assert run.stdout is not None
        run.stdout.readline()
        time.sleep(seconds)
        run.kill()


def launch_faults(folder: Path, originals: dict[str, bytes]) -> list[str]:
    """Return what is wrong in a folder after a kill, and after the launch that follows."""
    faults = [f"{name} is no whole file" for name, content in originals.items()
              if (folder / name).exists() and (folder / name).read_bytes() not in (content, OWN.encode())]
    before = {name for name in originals if (folder / name).exists()}
    delivery = launcher.delivered_lessons(launcher.lesson_source(), folder)
    lessons = set(originals) - {launcher.FILE_NAME}
    own = {name for name in before if (folder / name).read_bytes() == OWN.encode()}
    if set(delivery.new) & lessons != lessons - before or set(delivery.kept) | set(delivery.newer) != before & lessons:
        faults.append("the launch afterwards says something else")
    if set(delivery.newer) - own:
        faults.append(f"called newer without reason: {sorted(set(delivery.newer) - own)}")
    faults += [f"{name} is missing or changed" for name, content in originals.items()
               if (folder / name).read_bytes() != (OWN.encode() if name in own else content)]
    return faults + [f"left over: {path.name}" for path in folder.rglob("*") if path.suffix == ".ipynb"
                     and path.relative_to(folder).as_posix() not in originals]


def kill_launches(count: int, seed: int) -> list[str]:
    """Kill so many deliveries, each at a moment of its own, and return what was found wrong."""
    chance, found = random.Random(seed), []
    source = launcher.lesson_source()
    originals = {path.relative_to(source).as_posix(): path.read_bytes() for path in launcher._lesson_files(source)}
    originals[launcher.FILE_NAME] = demo_machine_text().encode()
    for number in range(count):
        folder = Path(tempfile.mkdtemp())
        if number % 3 == 0:
            (folder / "04_see_springback.ipynb").write_text(OWN)
        killed_after(LAUNCH, chance.uniform(0, 0.03), str(folder))
        found += launch_faults(folder, originals)
        shutil.rmtree(folder)
    return found


def kill_writes(count: int, seed: int) -> list[str]:
    """Kill so many writers of a file, new and old ones, and return what was found wrong."""
    chance, found = random.Random(seed), []
    for number in range(count):
        folder = Path(tempfile.mkdtemp())
        file, old = folder / "pattern.dxf", number % 2
        if old:
            file.write_bytes(b"o" * 200_000)
        killed_after(WRITE, chance.uniform(0, 0.02), str(file), "n", str(old))
        content = file.read_bytes() if file.exists() else b"n" * 200_000
        if content not in (b"n" * 200_000, b"o" * 200_000) or (old and not file.exists()):
            found.append(f"{len(content)} bytes of a file")
        found += [f"left over: {path.name}" for path in folder.iterdir() if path != file and path.suffix != UNFINISHED]
        shutil.rmtree(folder)
    return found


def main() -> int:
    """Kill, report, and return 1 where anything was lost or half."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--launches", type=int, default=300)
    parser.add_argument("--writes", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    found = kill_launches(asked.launches, asked.seed) + kill_writes(asked.writes, asked.seed)
    print(*found, sep="\n")
    print(f"{asked.launches} launches and {asked.writes} writes killed: {len(found)} faults")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
