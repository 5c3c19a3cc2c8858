"""Answers kept by content key: in memory, and documents on the disk too, over a restart."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, MutableMapping
from pathlib import Path
from typing import Any

MOST_BYTES = 50_000_000
"""Largest document that is kept [bytes]."""


class KeptAnswers(MutableMapping[str, Any]):
    """Answers by content key; those that are plain documents lie on the disk as well.

    Parameters
    ----------
    folder : Path or None
        Where documents lie; None keeps everything in memory alone.

    Notes
    -----
    A document is written beside its place and then moved there, so a stop leaves no half of one.
    What cannot be read again, or written, is computed again: the folder is never the only copy of
    anything and may be thrown away.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = folder
        self._memory: dict[str, Any] = {}

    @property
    def folder(self) -> Path | None:
        """Where documents lie."""
        return self._folder

    def __getitem__(self, key: str) -> Any:
        if key in self._memory:
            return self._memory[key]
        found = self._read(key)
        if found is None:
            raise KeyError(key)
        self._memory[key] = found
        return found

    def __contains__(self, key: object) -> bool:
        return key in self._memory or (isinstance(key, str) and self._remembered(key))

    def __setitem__(self, key: str, value: Any) -> None:
        self._memory[key] = value
        if self._folder is not None and isinstance(value, dict):
            self._write(key, value)

    def __delitem__(self, key: str) -> None:
        self._memory.pop(key, None)
        path = self._path(key)
        if path:
            path.unlink(missing_ok=True)

    def __iter__(self) -> Iterator[str]:
        return iter(self._memory)

    def __len__(self) -> int:
        return len(self._memory)

    def _path(self, key: str) -> Path | None:
        return None if self._folder is None else self._folder / key[:2] / f"{key}.json"

    def _remembered(self, key: str) -> bool:
        """Tell whether the disk has it, readable; it is then in memory."""
        found = self._read(key)
        if found is None:
            return False
        self._memory[key] = found
        return True

    def _read(self, key: str) -> Any:
        path = self._path(key)
        if path is None:
            return None
        try:
            return json.loads(path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return None

    def _write(self, key: str, value: dict[str, Any]) -> None:
        path = self._path(key)
        try:
            text = json.dumps(value, ensure_ascii=False, allow_nan=False)
            if path is None or len(text) > MOST_BYTES:
                return
            path.parent.mkdir(parents=True, exist_ok=True)
            beside = path.with_suffix(f".{os.getpid()}.new")
            beside.write_text(text, encoding="utf-8")
            beside.replace(path)
        except (OSError, TypeError, ValueError):
            return
