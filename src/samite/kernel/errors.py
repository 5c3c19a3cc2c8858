"""The error tree: every error says what is wrong, where, and how to mend it."""

from __future__ import annotations

from typing import ClassVar


class SamiteError(Exception):
    """Base of every error that samite raises on purpose.

    Parameters
    ----------
    message : str
        What is wrong, in plain words.
    where : str
        The place: a field, a piece of the label, a file and line.
    hint : str
        How to mend it.
    """

    code: ClassVar[str] = "samite-error"
    exit_code: ClassVar[int] = 1

    def __init__(self, message: str, where: str = "", hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.where = where
        self.hint = hint

    def as_dict(self) -> dict[str, str]:
        """Return the one error shape that every face shows.

        Returns
        -------
        dict of str to str
            Keys ``code``, ``message``, ``where`` and ``hint``.
        """
        return {
            "code": self.code,
            "message": self.message,
            "where": self.where,
            "hint": self.hint,
        }


class InputError(SamiteError):
    """What the person gave is malformed or contradicts itself."""

    code = "bad-input"
    exit_code = 2


class OutOfRangeError(InputError):
    """A number that the person gave is impossible or outside what can be answered."""

    code = "out-of-range"


class UnknownNameError(InputError):
    """A name that no table knows; the hint carries close names."""

    code = "unknown-name"


class UnknownError(SamiteError):
    """No source gives the value; the hint names the swatch test that would settle it."""

    code = "unknown-value"


class InfeasibleError(SamiteError):
    """Two demands contradict each other; the message names both."""

    code = "infeasible"
    exit_code = 0


class TableError(SamiteError):
    """A table shipped with the program or given by the person is broken (file and line)."""

    code = "table-error"


class StoreError(SamiteError):
    """The store cannot do it: locked, full, read-only, broken, newer than this program."""

    code = "store-error"


class ChangedMeanwhileError(StoreError):
    """Someone else changed what was about to be changed; nothing was written."""

    code = "changed-meanwhile"


class DamagedStoreError(StoreError):
    """The store's file is damaged, or is no store at all."""

    code = "damaged-store"
