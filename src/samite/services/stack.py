"""The bare layer solver, for anyone who wants to check it."""

from __future__ import annotations

import json
from typing import Any

from samite.kernel.errors import InputError
from samite.press.stack import answer_stack


def press_stack(text: str) -> dict[str, Any]:
    """Solve a stack of layers.

    Parameters
    ----------
    text : str
        JSON in the form ``samite.stack.v1``.

    Returns
    -------
    dict of str to object
        JSON in the form ``samite.stack-answer.v1``.

    Raises
    ------
    InputError
        If the text is no JSON or the stack is malformed.
    """
    try:
        document = json.loads(text)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise InputError(f"not JSON: {error.msg}", where, "mend the file there") from None
    except RecursionError:
        raise InputError("nested too deeply", "the file", "a stack is two levels deep") from None
    if not isinstance(document, dict):
        raise InputError("the file holds no JSON object", "the file", 'start it with "{"')
    return answer_stack(document)
