"""What the contract tests read: modules, public names, docstrings and files of the checkout."""

from __future__ import annotations

import dataclasses
import enum
import importlib
import inspect
import re
import subprocess
import tomllib
import types
import typing
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "samite"
DATA = SRC / "data"
ENGINES = (
    "cloth", "garment", "press", "pieces", "labels", "seam", "lay", "swatch", "work", "buy", "project",
)  # fmt: skip
_HEADING = re.compile(r"^(\w[\w ]*)\n-{3,}$", re.MULTILINE)


def module_names() -> list[str]:
    """Return every public module of samite, by its files."""
    names = []
    for path in sorted(SRC.rglob("*.py")):
        parts = path.relative_to(SRC.parent).with_suffix("").parts
        parts = parts[:-1] if parts[-1] == "__init__" else parts
        if not any(part.startswith("_") for part in parts):
            names.append(".".join(parts))
    return names


def engine_modules() -> list[str]:
    """Return the public modules of the packages that compute answers."""
    return [
        name for name in module_names() if name.split(".")[1:2] and name.split(".")[1] in ENGINES
    ]


def plain_function(thing: object) -> Callable[..., object] | None:
    """Return the function under decorators, caches and compilers; None if there is none."""
    thing = getattr(thing, "__func__", thing)
    thing = getattr(thing, "func", thing) if type(thing).__name__ == "cached_property" else thing
    thing = getattr(thing, "py_func", thing)
    thing = inspect.unwrap(thing) if callable(thing) else thing
    return thing if isinstance(thing, types.FunctionType) else None


def public_functions(module_name: str) -> dict[str, Callable[..., object]]:
    """Return the public functions that a module itself defines, by name."""
    found = {}
    for name, thing in vars(importlib.import_module(module_name)).items():
        function = plain_function(thing)
        own = function and function.__module__ == module_name and function.__name__ == name
        if own and not name.startswith("_"):
            found[name] = function
    return found


def public_classes(module_name: str) -> dict[str, type]:
    """Return the public classes that a module itself defines, by name."""
    return {
        name: thing
        for name, thing in vars(importlib.import_module(module_name)).items()
        if isinstance(thing, type)
        and thing.__module__ == module_name
        and thing.__name__ == name
        and not name.startswith("_")
    }


def public_methods(cls: type) -> Iterator[tuple[str, Callable[..., object], bool]]:
    """Yield name, function and whether it is a property, for what a class itself defines."""
    for name, thing in vars(cls).items():
        is_property = isinstance(thing, property) or type(thing).__name__ == "cached_property"
        function = plain_function(thing.fget if isinstance(thing, property) else thing)
        if function and not name.startswith("_") and function.__module__ == cls.__module__:
            yield name, function, is_property


def constructor_parameters(cls: type) -> list[inspect.Parameter] | None:
    """Return what a class is made from; None if it does not say so itself."""
    if (
        issubclass(cls, enum.Enum)
        or getattr(cls, "_is_protocol", False)
        or typing.is_typeddict(cls)
    ):
        return None
    own = "__init__" in vars(cls) or hasattr(cls, "_fields")
    if not own and not ("__dataclass_fields__" in vars(cls) and dataclasses.is_dataclass(cls)):
        return None
    return signature(cls)


def signature(thing: Callable[..., object]) -> list[inspect.Parameter]:
    """Return the parameters of a callable without self and cls."""
    parameters = list(inspect.signature(thing).parameters.values())
    return [one for one in parameters if one.name not in ("self", "cls")]


@dataclass(frozen=True)
class Entry:
    """One parameter as a docstring describes it."""

    name: str
    type: str
    text: str


def sections(docstring: str | None) -> dict[str, str]:
    """Split a numpydoc docstring; the text before the first heading has the key ''."""
    text = inspect.cleandoc(docstring or "")
    marks = list(_HEADING.finditer(text))
    ends = [mark.start() for mark in marks[1:]] + [len(text)]
    found = {"": text[: marks[0].start()] if marks else text}
    for mark, end in zip(marks, ends, strict=True) if marks else ():
        found[mark[1]] = text[mark.end() : end].strip("\n")
    return found


def entries(section: str) -> list[Entry]:
    """Return the entries of a Parameters section, ``a, b : float`` as two."""
    found: list[Entry] = []
    for block in re.split(r"\n(?=\S)", section.strip("\n")):
        head, _, text = block.partition("\n")
        names, _, kind = head.partition(" : ")
        words = " ".join(text.split())
        found += [Entry(name.strip(), kind.strip(), words) for name in names.split(",")]
    return [entry for entry in found if entry.name]


@cache
def source_keys() -> frozenset[str]:
    """Return the keys of ``sources.toml``."""
    return frozenset(tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8")))


def repository_files() -> list[Path]:
    """Return the files that are, or would be, in the repository."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True)
    paths = [ROOT / name for name in listed.stdout.decode().split("\0") if name]
    return [path for path in paths if path.is_file()]


def markdown_rows(text: str, *columns: str) -> list[dict[str, str]]:
    """Return the rows of every Markdown table that has all these columns."""
    rows: list[dict[str, str]] = []
    head: list[str] = []
    for line in text.splitlines():
        if not line.lstrip().startswith("|"):
            head = []
            continue
        cells = [cell.strip().strip("`") for cell in line.strip().strip("|").split("|")]
        if not head:
            head = [cell.lower() for cell in cells]
        elif set(columns) <= set(head) and not set("".join(cells)) <= set("-: "):
            rows.append(dict(zip(head, cells, strict=False)))
    return rows
