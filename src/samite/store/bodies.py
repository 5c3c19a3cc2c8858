"""Bodies kept as files in a folder of the person's own, one a body, readable by that person alone."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

from samite.kernel.errors import InputError, UnknownNameError

FORMAT = "samite.body.v1"
LONGEST_NAME = 60
ENDING = ".body.json"


class BodyFiles:
    """A folder of bodies.

    Parameters
    ----------
    folder : Path
        Where they are; made when the first is kept.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def names(self) -> list[str]:
        """Return the names of all bodies.

        Returns
        -------
        list of str
            Sorted.
        """
        found = self.folder.glob(f"*{ENDING}") if self.folder.is_dir() else []
        return sorted(unquote(path.name.removesuffix(ENDING)) for path in found)

    def keep(self, name: str, body: dict[str, Any]) -> None:
        """Keep a body; one of the same name is replaced.

        Parameters
        ----------
        name : str
            Its name.
        body : dict of str to object
            Measures, group and age as written.

        Raises
        ------
        InputError
            If the name is empty or too long, or the folder cannot be written.
        """
        path = self._path(name)
        text = json.dumps({"format": FORMAT, "name": name.strip(), **body}, indent=1)
        fresh = path.with_suffix(".new")
        try:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            with os.fdopen(
                os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w"
            ) as file:
                file.write(text)
            fresh.replace(path)
        except OSError as error:
            raise InputError(
                f"cannot write {path}: {error.strerror}", str(self.folder), "choose another folder"
            ) from None

    def take(self, name: str) -> dict[str, Any]:
        """Return a body.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        dict of str to object
            As kept.

        Raises
        ------
        UnknownNameError
            If there is none of that name.
        InputError
            If its file is broken.
        """
        path = self._path(name)
        if not path.is_file():
            raise self._not_there(name)
        try:
            document = json.loads(path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            document = None
        if not isinstance(document, dict) or document.get("format") != FORMAT:
            raise InputError(
                f"the file of {name!r} is broken", str(path), "erase it and measure again"
            )
        return document

    def erase(self, name: str) -> None:
        """Erase a body for good.

        Parameters
        ----------
        name : str
            Its name.

        Raises
        ------
        UnknownNameError
            If there is none of that name.
        """
        path = self._path(name)
        if not path.is_file():
            raise self._not_there(name)
        path.unlink()

    def _not_there(self, name: str) -> UnknownNameError:
        told = ", ".join(self.names()) or "none is kept"
        return UnknownNameError(f"no body is kept under {name!r}", "body", told)

    def _path(self, name: str) -> Path:
        plain = name.strip()
        if not plain or len(plain) > LONGEST_NAME:
            raise InputError("give the body a short name", "body", f"up to {LONGEST_NAME} letters")
        return self.folder / (quote(plain, safe=" ") + ENDING)
