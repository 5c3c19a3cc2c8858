"""Options written as NAME=VALUE."""

from __future__ import annotations

from samite.kernel.errors import InputError


def read_pairs(texts: tuple[str, ...], option: str) -> dict[str, str]:
    """Read several NAME=VALUE of one option.

    Parameters
    ----------
    texts : tuple of str
        As typed.
    option : str
        The option, for messages.

    Returns
    -------
    dict of str to str
        Value by name.

    Raises
    ------
    InputError
        If one has no equals sign or a name stands twice.
    """
    pairs: dict[str, str] = {}
    for text in texts:
        name, mark, value = text.partition("=")
        if not mark or not name.strip():
            raise InputError(
                f"{text!r} is no NAME=VALUE", option, 'for example waist_girth="70 cm"'
            )
        if name.strip() in pairs:
            raise InputError(f"{name.strip()} is given twice", option, "give it once")
        pairs[name.strip()] = value.strip()
    return pairs
