"""Set up what samite needs and start it, or its tests.

Only the standard library is used, and nothing outside the checkout is written but the package
caches. The environment is made once, in ``.venv`` (or ``.venv-test``); a stamp inside it tells
that it still fits the lock file, so that every later start skips the set-up.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SETUP_LOCK = ROOT / "requirements-setup.lock"
OLDEST = (3, 11)
SCRIPTS = "Scripts" if os.name == "nt" else "bin"
SUFFIX = ".exe" if os.name == "nt" else ""
QUIET = [] if sys.stderr.isatty() else ["-q"]
NO_INSTALLER = """neither pip nor uv was found, so nothing can be installed.
Install one of them and start again; on Debian and its kin:  apt install python3-venv"""


class SetUpError(Exception):
    """The environment cannot be made; the message says what to do."""


class Environment:
    """A virtual environment of the checkout and the lock file that fills it."""

    def __init__(self, folder: str, lock: str) -> None:
        self.folder = ROOT / folder
        self.lock = ROOT / lock
        self.stamp = self.folder / "samite-stamp.txt"
        self.python = self.program("python")

    def program(self, name: str) -> Path:
        """Return the path of a program installed in the environment."""
        return self.folder / SCRIPTS / (name + SUFFIX)

    def is_ours(self) -> bool:
        """Tell whether this very program runs on the environment's own Python."""
        return os.path.realpath(Path(sys.executable).parent) == str(self.folder / SCRIPTS)

    def keys(self) -> list[str]:
        """Hash what the packages, and what the checkout's own installation, depend on."""
        place = f"{ROOT} {sys.version_info[:2]}"
        packages = _hash(place, self.lock, SETUP_LOCK, Path(__file__))
        return [packages, _hash("", ROOT / "pyproject.toml")]

    def ready(self) -> list[bool]:
        """Tell whether packages and checkout are installed as they should be."""
        try:
            found = self.stamp.read_text(encoding="utf-8").split()
        except OSError:
            return [False, False]
        return [key in found for key in self.keys()]


def _hash(text: str, *paths: Path) -> str:
    digest = hashlib.sha256(text.encode())
    for path in paths:
        digest.update(path.read_bytes())
    return digest.hexdigest()


def set_up(environment: Environment) -> None:
    """Make or mend the environment; return at once if there is nothing to do."""
    packages_ready, checkout_ready = environment.ready()
    if packages_ready and checkout_ready:
        return
    if not packages_ready and environment.is_ours():
        base = getattr(sys, "_base_executable", sys.executable)
        raise SystemExit(_call([base, __file__, *sys.argv[1:]]))
    began = time.monotonic()
    environment.stamp.unlink(missing_ok=True)
    if not packages_ready:
        _say(f"setting up {environment.folder.name} (once; this needs the network)")
        _make(environment)
        _install_packages(environment)
    _install(environment, ["--no-deps", "--no-build-isolation", "--editable", str(ROOT)])
    _warm_up(environment)
    environment.stamp.write_text("\n".join(environment.keys()) + "\n", encoding="utf-8")
    _say(f"ready after {time.monotonic() - began:.0f} s")


def _make(environment: Environment) -> None:
    """Make an empty environment; without pip, since Debian ships it apart from Python."""
    try:
        import venv

        venv.create(environment.folder, clear=True, symlinks=os.name != "nt", with_pip=False)
    except (ImportError, OSError) as error:
        uv = shutil.which("uv")
        made = uv and _call([uv, "venv", "--clear", "-q", "-p", sys.executable, environment.folder])
        if made != 0:
            raise SetUpError(f"no environment could be made: {error}") from error


def _install_packages(environment: Environment) -> None:
    pip = _pip(environment)
    if pip and _call([*pip, "install", *QUIET, "--require-hashes", "-r", SETUP_LOCK]) != 0:
        _say("uv could not be installed; going on with pip")
    _install(environment, ["--require-hashes", "-r", str(environment.lock)])
    _compile(environment)


TESTS_OF_PACKAGES = r"site-packages[/\\].*[/\\]tests?[/\\]"
"""What packages bring to test themselves: a third of their code, and never run."""


def _compile(environment: Environment) -> None:
    """Compile packages and checkout to bytecode: it nearly halves the time of a cold card."""
    packages = [str(path) for path in sorted(environment.folder.glob("[Ll]ib*/**/site-packages"))]
    options = ["-q", "-j", "0", "-x", TESTS_OF_PACKAGES]
    places = [*packages, str(ROOT / "src")]
    _call([environment.python, "-m", "compileall", *options, *places], quiet=True)


def _warm_up(environment: Environment) -> None:
    """Compile the solvers once, so that the first answer does not wait for it."""
    _say("compiling the solvers of layers, lays and learning (once)")
    commands = [[environment.python, "-m", f"samite.{part}.warm_up"] for part in ("press", "lay")]
    with ThreadPoolExecutor() as side_by_side:
        list(side_by_side.map(partial(_call, quiet=True), commands))
    # Learning presses too: after the solvers of layers, not beside them.
    _call([environment.python, "-m", "samite.swatch.warm_up"], quiet=True)


def _install(environment: Environment, arguments: Sequence[str]) -> None:
    """Install with uv; where uv is missing or fails, with pip."""
    own_uv = environment.program("uv")
    uv = str(own_uv) if own_uv.exists() else shutil.which("uv")
    if uv and _call([uv, "pip", "install", *QUIET, "-p", environment.python, *arguments]) == 0:
        return
    pip = _pip(environment)
    if not pip:
        raise SetUpError("uv failed; see above" if uv else NO_INSTALLER)
    _say("installing with pip, which takes longer")
    if _call([*pip, "install", *QUIET, *arguments]) != 0:
        raise SetUpError("pip failed; see above. Is the network there?")


def _pip(environment: Environment) -> list[str]:
    """Return a pip that installs into the environment; empty if there is none."""
    own = [str(environment.python), "-m", "pip"]
    outer = [sys.executable, "-m", "pip", "--python", str(environment.python)]
    bootstrap = [str(environment.python), "-m", "ensurepip"]
    for pip in (own, outer):
        if _call([*pip, "--version"], quiet=True) == 0:
            return pip
    return own if _call(bootstrap, quiet=True) == 0 else []


def _call(command: Sequence[str | Path], *, quiet: bool = False) -> int:
    """Run a command and return its exit code; quiet drops what it prints."""
    variables = {k: v for k, v in os.environ.items() if k not in ("PYTHONHOME", "VIRTUAL_ENV")}
    variables["PIP_DISABLE_PIP_VERSION_CHECK"] = "1"
    variables.setdefault("UV_SYSTEM_CERTS", "1")  # behind a proxy with its own certificates
    sink = subprocess.DEVNULL if quiet else None
    texts = [str(word) for word in command]
    return subprocess.run(texts, stdout=sink, stderr=sink, env=variables, check=False).returncode


def run(arguments: Sequence[str]) -> int:
    """Start samite; without arguments its demonstration."""
    environment = Environment(".venv", "requirements.lock")
    set_up(environment)
    command = [str(environment.program("samite")), *(arguments or ["demo"])]
    if os.name != "nt":
        os.execv(command[0], command)  # noqa: S606
    return _call(command)


ALL_CORES = ("-n", "auto", "--dist", "loadfile", "--no-loadscope-reorder")
"""How the whole suite runs: a file stays in one process, so that what it sets up is used; the
heavy files come first (tests/conftest.py), so that all cores end together."""


READING = {
    "ruff check": ("ruff", "check", "--quiet", "--output-format", "concise"),
    "ruff format": ("ruff", "format", "--check", "--quiet"),
    "mypy": ("mypy", "--no-error-summary"),
    "import-linter": ("lint-imports", "--no-logo"),
}
"""What only reads the code."""


def test(arguments: Sequence[str]) -> int:
    """Lint, check types and imports and run all tests; report every stage that failed."""
    environment = Environment(".venv-test", "requirements-test.lock")
    set_up(environment)
    if "--full" in arguments:
        os.environ["SAMITE_FULL"] = "1"
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # every core has a test of its own
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # else every process compiles all it imports
    os.chdir(ROOT)
    os.environ["PATH"] = f"{environment.folder / SCRIPTS}{os.pathsep}{os.environ['PATH']}"
    asked = [word for word in arguments if word != "--full"]
    failed = _failed(environment, {**READING, "pytest": ("pytest", *(asked or ALL_CORES))})
    _say(f"FAILED: {', '.join(failed)}" if failed else "every check passed")
    return 1 if failed else 0


def _failed(environment: Environment, stages: Mapping[str, Sequence[str]]) -> list[str]:
    """Run stages side by side and return the names of those that failed.

    Checking types takes one core for a minute, so that it runs beside the tests and not before.
    """

    def code(name: str) -> int:
        program, *rest = stages[name]
        command: list[str | Path] = [environment.program(program), *rest]
        return _call_aside(name, command) if name in READING else _call(command)

    _say(", ".join(stages))
    with ThreadPoolExecutor() as side_by_side:
        codes = dict(zip(stages, side_by_side.map(code, stages), strict=True))
    return [name for name, bad in codes.items() if bad]


def _call_aside(name: str, command: Sequence[str | Path]) -> int:
    """Run a command beside others: what it prints comes in one piece, once it has ended."""
    texts = [str(word) for word in command]
    done = subprocess.run(texts, capture_output=True, text=True, errors="replace", check=False)
    if done.returncode != 0:
        _say(f"FAILED: {name}\n{done.stdout}{done.stderr}")
    return done.returncode


def _say(text: str) -> None:
    print(f"samite: {text}", file=sys.stderr, flush=True)


def main(arguments: Sequence[str]) -> int:
    """Do what the first word says: run or test."""
    if sys.version_info[:2] < OLDEST:
        _say(f"needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this is {sys.version.split()[0]}")
        return 1
    tasks = {"run": run, "test": test}
    if not arguments or arguments[0] not in tasks:
        _say("say what to do: tools/up.py run ... or tools/up.py test ...")
        return 2
    try:
        return tasks[arguments[0]](arguments[1:])
    except (SetUpError, OSError) as error:
        _say(str(error))
        return 1
    except KeyboardInterrupt:
        _say("stopped")
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
