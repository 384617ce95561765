"""Write constraints.txt anew: the versions that a class gets today, next week and next year.

    python3 binder/freeze.py python3.11 python3.13        (each resolves for itself and newer ones)

Name the oldest patch release of each that is still served (Debian 12 has 3.11.2: some packages want 3.11.5).
Installs the lessons and the tests without constraints, once per Python, oldest first, and
writes what each got; where they differ, a marker says for which Python a version is meant.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
HEAD = """\
# The versions the lessons are taught and tested with. Written by binder/freeze.py; do not edit, write it anew:
#     python3 binder/freeze.py {pythons}
"""


def main(pythons: list[str]) -> None:
    """Resolve for each Python and write the constraints file."""
    found = [resolved(python) for python in pythons]
    names = sorted({name for _, versions in found for name in versions}, key=str.lower)
    lines = [line for name in names for line in pins(name, found)]
    head = HEAD.format(pythons=" ".join(f"python{version}" for version, _ in found))
    (TOP / "binder" / "constraints.txt").write_text(head + "\n".join(lines) + "\n", encoding="utf-8")


def resolved(python: str) -> tuple[str, dict[str, str]]:
    """Return a Python's version and the versions of the packages it gets in an empty environment."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([python, "-m", "venv", folder], check=True)
        inside = str(Path(folder) / "bin" / "python")
        subprocess.run([inside, "-m", "pip", "install", "-q", f"{TOP}[lessons,test]"], check=True)
        show = "import sys; print('%d.%d' % sys.version_info[:2])"
        version = subprocess.check_output([inside, "-c", show], text=True).strip()
        frozen = subprocess.check_output([inside, "-m", "pip", "freeze", "--exclude", "rollcalc"], text=True)
    return version, dict(line.split("==") for line in frozen.split())


def pins(name: str, found: list[tuple[str, dict[str, str]]]) -> list[str]:
    """Return one package's lines: one for each version, with the Pythons it is meant for."""
    got = [(python, versions[name]) for python, versions in found if name in versions]
    starts = [pair for before, pair in zip([("", ""), *got], got, strict=False) if pair[1] != before[1]]
    lines = []
    for place, (python, version) in enumerate(starts):
        since = [f'python_version >= "{python}"'] if place else []
        until = [f'python_version < "{starts[place + 1][0]}"'] if starts[place + 1 :] else []
        marker = " and ".join(since + until)
        lines.append(f"{name}=={version}" + (f" ; {marker}" if marker else ""))
    return lines


if __name__ == "__main__":
    main(sys.argv[1:])
