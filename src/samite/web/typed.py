"""What a person typed, kept in every link so that it can be reloaded, marked and sent."""

from __future__ import annotations

from dataclasses import dataclass, replace
from urllib.parse import urlencode

from samite.web.words import UNITS


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the form.

    Parameters
    ----------
    label : str
        What the bolt says.
    use : str
        What the cloth is wanted for.
    units : str
        ``metric`` or ``imperial``, or what was asked for instead.
    iron : tuple of (str, str)
        Name and text of each field of the iron that holds anything.
    """

    label: str = ""
    use: str = ""
    units: str = UNITS[0]
    iron: tuple[tuple[str, str], ...] = ()

    @property
    def shown_units(self) -> str:
        """Units that the page can show."""
        return self.units if self.units in UNITS else UNITS[0]

    def with_label(self, label: str, use: str | None = None) -> Typed:
        """Return the same with another label.

        Parameters
        ----------
        label : str
            The other label.
        use : str or None
            Another use; None keeps it.

        Returns
        -------
        Typed
            Units and iron kept.
        """
        return replace(self, label=label, use=self.use if use is None else use)

    def link(self, **more: str) -> str:
        """Return the query of an address.

        Parameters
        ----------
        **more : str
            Further names.

        Returns
        -------
        str
            Only what was said, encoded.
        """
        units = self.shown_units if self.shown_units != UNITS[0] else ""
        query = {"label": self.label, "for": self.use, "units": units, **dict(self.iron), **more}
        return urlencode({name: value for name, value in query.items() if value})
