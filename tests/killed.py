"""Command: kill the delivery of lessons, the writing of files and the keeping of jobs at any moment: what is left?

    python -m tests.killed --launches 300 --writes 300 --records 300

After each kill every file must be whole, as it was, or not there, and the next launch must bring all and say so
truthfully; every job that was kept must be there, and one more at most. The short form is in `tests/test_launcher.py`
and `tests/job/test_record.py`.
"""

from __future__ import annotations

import argparse
import random
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from rollcalc import launcher
from rollcalc.job import JobRecord, load_records, save_record
from rollcalc.rolling.machine.writer import demo_machine_text
from rollcalc.stock import RoundBar
from rollcalc.stock.files import UNFINISHED

LAUNCH = "import sys; from pathlib import Path; from rollcalc import launcher as l; print('on', flush=True); " \
         "l.delivered_lessons(l.lesson_source(), Path(sys.argv[1])); print('done', flush=True)"
WRITE = "import sys; from pathlib import Path; from rollcalc.stock.files import put_bytes; print('on', flush=True)\n" \
        "while True: put_bytes(Path(sys.argv[1]), sys.argv[2].encode() * 200_000, overwrite=sys.argv[3] == '1')\n"
SAVE = "import sys; from dataclasses import replace; from rollcalc.job import load_records, save_record\n" \
       "old = load_records(sys.argv[1]) if sys.argv[2] == '1' else ()\n" \
       "job, = load_records(sys.argv[3]); print('on', flush=True)\n" \
       "for number in range(len(old), 10_000):\n" \
       "    save_record(replace(job, part=f'ring {number}'), sys.argv[1]); print(number, flush=True)\n"
OWN = "a learner's own notes, longer than nothing"


def killed_after(code: str, seconds: float, *words: str) -> list[str]:
    """Run a program, kill it so many seconds after it says that it has begun, and return what it said from there on."""
    command = [sys.executable, "-c", code, *words]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as run:
        assert run.stdout is not None
        run.stdout.readline()
        time.sleep(seconds)
        run.kill()
        return run.stdout.read().decode().split()


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


def kill_records(count: int, seed: int) -> list[str]:
    """Kill so many programs that keep job after job in a file, new or old, and return what was found wrong."""
    chance, found = random.Random(seed), []
    ring = JobRecord(date="2026-11-27", part="ring", machine="bench roll", metal="mild steel", stock=RoundBar(6),
                     wanted_radius=48)
    for number in range(count):
        folder, old, mark = Path(tempfile.mkdtemp()), number % 2, "# a note of one's own\n"
        file, one = folder / "jobs.toml", folder / "one.toml"
        save_record(ring, one)
        if old:
            save_record(replace(ring, part="ring 0"), file)
            file.write_text(file.read_text() + mark)
        told = killed_after(SAVE, chance.uniform(0, 0.04), str(file), str(old), str(one))
        kept = [job.part for job in load_records(file)] if file.exists() else []
        sure = old + len(told)
        if kept != [f"ring {place}" for place in range(len(kept))] or len(kept) not in (sure, sure + 1):
            found.append(f"{sure} jobs were kept, and {len(kept)} are there")
        save_record(ring, file)
        if load_records(file)[-1] != ring or len(load_records(file)) != len(kept) + 1:
            found.append("the next job was not kept")
        if old and mark not in file.read_text():
            found.append("a note of one's own is lost")
        found += [f"left over: {path.name}" for path in folder.iterdir()
                  if path not in (file, one) and path.suffix != UNFINISHED]
        shutil.rmtree(folder)
    return found


def main() -> int:
    """Kill, report, and return 1 where anything was lost or half."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--launches", type=int, default=300)
    parser.add_argument("--writes", type=int, default=300)
    parser.add_argument("--records", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    found = [*kill_launches(asked.launches, asked.seed), *kill_writes(asked.writes, asked.seed),
             *kill_records(asked.records, asked.seed)]
    print(*found, sep="\n")
    print(f"{asked.launches} launches, {asked.writes} writes and {asked.records} keepers of jobs killed: "
          f"{len(found)} faults")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
