"""Build the wheel, install it in an empty environment, and open the lessons from there."""

import json
import os
import subprocess
import sys
import tempfile
import time
import urllib.request
import zipfile
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
LESSON = "00_start_here.ipynb"


def main() -> None:
    """Check, or end with what is wrong."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        subprocess.run([sys.executable, "-m", "venv", folder / "venv"], check=True)
        python = folder / "venv" / "bin" / "python"
        pip = [python, "-m", "pip", "-q", "--disable-pip-version-check"]
        subprocess.run([*pip, "wheel", "--no-deps", "--wheel-dir", folder, TOP], check=True)
        wheel = next(folder.glob("rollcalc-*.whl"))
        missing = sorted(wanted() - set(zipfile.ZipFile(wheel).namelist()))
        assert not missing, f"the wheel lacks {missing}"
        held = TOP / "binder" / "constraints.txt"
        subprocess.run([*pip, "install", "--constraint", held, f"{wheel}[lessons]"], check=True)
        serve(folder)
    print(f"{wheel.name} carries {len(wanted())} files of lessons and data, and opens the lessons.")


def wanted() -> set[str]:
    """Return the names that the project's lessons, and the data the library reads, must have in the wheel."""
    lessons = (path for path in (TOP / "notebooks").rglob("*") if path.is_file())
    shown = (path.relative_to(TOP) for path in lessons)
    data = (path.relative_to(TOP).as_posix() for path in (TOP / "rollcalc").rglob("*")
            if path.suffix in (".toml", ".csv", ".js", ".css"))
    return {*data, *(f"rollcalc/{path.as_posix()}" for path in shown
                     if not any(part.startswith(".") for part in path.parts))}


def serve(folder: Path) -> None:
    """Start the command away from the project, and fetch the first lesson from its server."""
    own = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR")
    env = {**os.environ, **{name: str(folder / name) for name in own}, "PYTHONPATH": ""}
    command = [folder / "venv" / "bin" / "rollcalc", "--no-browser", folder / "mine"]
    server = subprocess.Popen(command, cwd=folder, env=env)
    try:
        known = json.loads(answer(server, folder / "JUPYTER_RUNTIME_DIR" / f"jpserver-{server.pid}.json"))
        address = f"{known['url']}api/contents/{LESSON}?token={known['token']}"
        served = json.load(urllib.request.urlopen(address, timeout=10))
        original = json.loads((TOP / "notebooks" / LESSON).read_text(encoding="utf-8"))
        sources = [["".join(cell["source"]) for cell in lesson["cells"]] for lesson in (served["content"], original)]
        assert sources[0] == sources[1], "the lesson served is not the project's"
    finally:
        server.terminate()
        server.wait(30)


def answer(server: subprocess.Popen, note: Path) -> str:
    """Return what the server noted about itself, once it is ready."""
    for _ in range(300):
        assert server.poll() is None, "the command ended at once"
        if note.exists() and note.read_text():
            return note.read_text()
        time.sleep(0.2)
    raise AssertionError("the server did not start within a minute")


if __name__ == "__main__":
    main()
