"""From a fresh clone to an open lesson.

    python3 binder/start.py              open the lessons, in the folder my-lessons beside README.md
    python3 binder/start.py FOLDER       open them in a folder of your own
    python3 binder/start.py test         run every test (more words are passed on to pytest)

On Windows: py binder\\start.py

The first run makes the environment .venv in the clone; later runs use it as it is, unless the
project's needs, its pinned versions, the Python or the place of the clone changed.
This file must be readable by very old Pythons, so that they can say that they are too old.
"""

from __future__ import print_function

import hashlib
import os
import subprocess
import sys

OLDEST = (3, 11)
TOP = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
VENV = os.path.join(TOP, ".venv")
PYTHON = os.path.join(VENV, *(("Scripts", "python.exe") if os.name == "nt" else ("bin", "python")))
READY = os.path.join(VENV, "ready")
LOG = os.path.join(VENV, "install.log")
CONSTRAINTS = os.path.join(TOP, "binder", "constraints.txt")
NO_NETWORK = (
    "connectionerror",
    "connecttimeout",
    "name resolution",
    "failed to resolve",
    "failed to establish a new connection",
    "network is unreachable",
    "read timed out",
    "cannot connect to proxy",
    "(from versions: none)",
)


def main(words):
    """Return the exit code of the lessons or the tests, having made their environment first."""
    if sys.version_info < OLDEST:
        stop(
            "The lessons need Python %d.%d or newer and this is Python %d.%d: install a newer one, then start "
            "this command with it, as in  python3.12 %s" % (OLDEST + sys.version_info[:2] + (sys.argv[0],))
        )
    testing = words[:1] == ["test"]
    prepare(["lessons", "test"] if testing else ["lessons"])
    if testing:
        return call([PYTHON, "-m", "pytest"] + words[1:], cwd=TOP)
    own_folder = [] if any(not word.startswith("-") for word in words) else [os.path.join(TOP, "my-lessons")]
    return call([PYTHON, "-m", "rollcalc"] + own_folder + words)


def prepare(extras):
    """Make .venv hold the extras; do nothing where it already does."""
    state, ready = fingerprint(), read(READY).split()
    if ready[:1] != [state] or not runs():
        make_venv()
        ready = [state]
    if not set(extras) <= set(ready):
        print("Fetching what is needed for: %s. Once only, one to five minutes." % ", ".join(extras))
        install(extras)
        with open(READY, "w") as file:
            file.write(" ".join(ready + extras))


def fingerprint():
    """Return a text that changes when the environment has to be made anew."""
    seen = [sys.version, sys.base_prefix, TOP, read(os.path.join(TOP, "pyproject.toml")), read(CONSTRAINTS)]
    return hashlib.sha256("\n".join(seen).encode("utf-8")).hexdigest()


def runs():
    """Return whether the environment has a Python that starts."""
    return os.path.exists(PYTHON) and call([PYTHON, "-c", ""], stderr=subprocess.DEVNULL) == 0


def make_venv():
    """Make an empty environment, in place of a broken or outdated one."""
    try:
        import ensurepip  # noqa: F401  (Debian keeps it, with all of venv's use, in a package of its own)
        import venv
    except ImportError:
        stop(
            "This Python cannot make an environment, because its venv package is missing: install it, on Debian "
            "or Ubuntu with  sudo apt install python%d.%d-venv  and start again." % sys.version_info[:2]
        )
    try:
        venv.create(VENV, clear=True, with_pip=True, symlinks=os.name != "nt")
    except (OSError, subprocess.CalledProcessError) as problem:
        stop("The folder %s cannot hold the environment (%s): make it writable and start again." % (VENV, problem))


def install(extras):
    """Install the project with its extras, its versions held by the constraints file."""
    command = [PYTHON, "-m", "pip", "install", "--disable-pip-version-check", "--progress-bar", "off"]
    command += ["--constraint", CONSTRAINTS, "--editable", ".[%s]" % ",".join(extras)]
    both = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    pip = subprocess.Popen(command, cwd=TOP, universal_newlines=True, errors="replace", **both)
    with open(LOG, "w", encoding="utf-8") as log:
        for line in pip.stdout:
            log.write(line)
            if line.startswith(("Collecting", "Building", "Installing")):
                sys.stdout.write(".")
                sys.stdout.flush()
    print()
    if pip.wait() == 0:
        return
    said = read(LOG)
    if any(word in said.lower() for word in NO_NETWORK):
        stop("The lessons' packages could not be fetched: connect this computer to the internet and start again.")
    reasons = [line for line in said.splitlines() if line.strip().startswith(("ERROR", "error"))]
    print("\n".join(reasons[-5:]), file=sys.stderr)
    stop("The environment could not be completed; all that was tried is written in %s" % LOG)


def read(path):
    """Return a file's text, or nothing where there is no such file."""
    if not os.path.exists(path):
        return ""
    with open(path, "rb") as file:
        return file.read().decode("utf-8", "replace")


def call(command, **options):
    """Return the exit code of a command; leave Ctrl-C to it."""
    process = subprocess.Popen(command, **options)
    while True:
        try:
            return process.wait()
        except KeyboardInterrupt:
            pass


def stop(sentence):
    """End with one sentence."""
    print(sentence, file=sys.stderr)
    sys.exit(1)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
