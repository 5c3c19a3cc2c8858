"""Which percentage belongs to which fibre."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from samite.cloth._reader.text import LabelText
from samite.cloth._reader.tokens import Kind, Token
from samite.kernel.errors import InputError, OutOfRangeError
from samite.tables.fibre_names import find_fibre

SHARES_LOW, SHARES_HIGH = 95.0, 101.0
"""What the shares of a part may add to [%]."""

_FAR = 100.0
_COLOURS = frozenset({"gold", "silver", "copper", "brass", "bronze"})
_MAX_WORDS = 2


@dataclass(frozen=True, slots=True)
class Entry:
    """A fibre of a label, with its share if one is given.

    Parameters
    ----------
    fibre : str
        Key in the fibre table, empty for other fibres.
    percent : float or None
        Share [%]; None if the label does not give one.
    start : int
        First letter of fibre and share in the folded text [1].
    end : int
        One past the last letter [1].
    weak : bool
        Whether the word is a fibre's only beside a percentage.
    usual : float
        Customary share within a word for two fibres [%], 100 for others.
    """

    fibre: str
    percent: float | None
    start: int
    end: int
    weak: bool = False
    usual: float = 100.0


class Pairing:
    """Pairs the percentages of a label with its fibres.

    Parameters
    ----------
    label : LabelText
        The label, for the messages.
    tokens : list of Token
        Its tokens.
    harmless : frozenset of int
        Starts of words that are known to be no fibres.
    """

    def __init__(self, label: LabelText, tokens: list[Token], harmless: frozenset[int]) -> None:
        self._label = label
        self._tokens = _without_colours(tokens)
        self._harmless = harmless
        self._used: set[int] = set()
        self._paired: set[int] = set()
        self.notes: list[str] = []

    def entries(self) -> list[Entry]:
        """Return all fibres in the order of the text.

        Returns
        -------
        list of Entry
            Those with shares and those without.

        Raises
        ------
        InputError
            If a ratio does not fit its fibres, or a percentage belongs to nothing.
        UnknownNameError
            If an unknown word stands beside a percentage.
        OutOfRangeError
            If a share is 0 or above 100 %.
        """
        found: list[Entry] = []
        for index, token in enumerate(self._tokens):
            if token.kind is Kind.RATIO:
                found += self._ratio(index)
        for segment in self._segments():
            found += self._pairs(segment)
        if not found:
            found += self._bare_numbers()
        self._check_lonely(bool(found))
        found += self._without_share()
        return sorted(found, key=lambda entry: (entry.start, entry.end))

    def _segments(self) -> list[list[int]]:
        """Return the runs of tokens in which percentages and fibres may pair."""
        segments: list[list[int]] = [[]]
        for index, token in enumerate(self._tokens):
            if token.kind is Kind.HARD or (token.kind is Kind.PART and token.colon):
                segments.append([])
            else:
                segments[-1].append(index)
        return segments

    def _pairs(self, segment: list[int]) -> list[Entry]:
        percents = [i for i in segment if self._tokens[i].kind is Kind.PERCENT]
        if not percents:
            return []
        ahead = self._match(percents, 1)
        behind = self._match(percents, -1)
        cost_ahead = sum(cost for _, cost in ahead.values())
        best, other = (
            (ahead, -1) if cost_ahead <= sum(c for _, c in behind.values()) else (behind, 1)
        )
        entries: list[Entry] = []
        for percent, (fibre, cost) in best.items():
            if cost < _FAR:
                entries += self._entry(percent, fibre)
        for percent in percents:
            if percent not in self._paired:
                fibre, cost = self._match([percent], other)[percent]
                if cost < _FAR:
                    entries += self._entry(percent, fibre)
        return entries

    def _match(self, percents: Iterable[int], step: int) -> dict[int, tuple[int, float]]:
        return {percent: self._neighbour(percent, step) for percent in percents}

    def _neighbour(self, percent: int, step: int) -> tuple[int, float]:
        """Return the fibre next to a percentage in one direction, and how far it seems."""
        cost, words = 0.0, 0
        index = percent + step
        while 0 <= index < len(self._tokens):
            token = self._tokens[index]
            if token.kind in (Kind.FIBRE, Kind.OTHER) and index not in self._used:
                weak = token.fibre is not None and token.fibre.weak and cost > 1.8
                return (index, cost) if not weak else (-1, _FAR)
            if token.kind is Kind.WORD:
                words += 1
                cost += 0.2 if token.start in self._harmless else 1.0
            elif token.kind is Kind.SOFT:
                cost += 2.0 if "," in token.text or "\x01" in token.text else 0.1
            elif token.kind is Kind.JOIN:
                cost += 1.0
            elif token.kind is Kind.PART and not token.colon:
                cost += 1.5
            else:
                break
            if words > _MAX_WORDS:
                break
            index += step
        return -1, _FAR

    def _entry(self, percent: int, fibre: int) -> list[Entry]:
        if fibre in self._used or percent in self._paired:
            return []
        self._used.add(fibre)
        self._paired.add(percent)
        figure, token = self._tokens[percent], self._tokens[fibre]
        start, end = min(figure.start, token.start), max(figure.end, token.end)
        return self._shared(figure.numbers[0], token, start, end)

    def _shared(self, share: float, token: Token, start: int, end: int) -> list[Entry]:
        if not 0.0 < share <= 100.0:
            raise OutOfRangeError(
                f"a share of {share:g} % is impossible",
                self._label.place(start, end),
                "a share is more than 0 and at most 100 %",
            )
        if token.fibre is None:
            return [Entry("", share, start, end)]
        return [
            Entry(key, share * usual / 100.0, start, end, usual=usual)
            for key, usual in token.fibre.fibres
        ]

    def _ratio(self, index: int) -> list[Entry]:
        """Pair 94/6 with the fibres that follow it, else with those before it."""
        token = self._tokens[index]
        count = len(token.numbers)
        run = max((self._run(index, 1, count), self._run(index, -1, count)), key=_fibre_count)
        if _fibre_count(run) == 0:
            return []
        self._paired.add(index)
        self._used.update(run)
        start = min([token.start, *(self._tokens[i].start for i in run)])
        end = max([token.end, *(self._tokens[i].end for i in run)])
        names = [key for i in sorted(run) for key in self._keys(i)]
        if len(names) != count:
            raise InputError(
                f"{token.text.strip()} gives {count} shares, but {len(names)} fibre(s) stand by it",
                self._label.place(start, end),
                f"name {count} fibres in the order of the shares",
            )
        entries: list[Entry] = []
        for share, name in zip(token.numbers, names, strict=True):
            if not 0.0 < share <= 100.0:
                raise OutOfRangeError(
                    f"a share of {share:g} % is impossible",
                    self._label.place(start, end),
                    "a share is more than 0 and at most 100 %",
                )
            entries.append(Entry(name, share, start, end))
        return entries

    def _keys(self, index: int) -> list[str]:
        fibre = self._tokens[index].fibre
        return [key for key, _ in fibre.fibres] if fibre is not None else [""]

    def _run(self, index: int, step: int, count: int) -> list[int]:
        """Return up to `count` fibres in a row beside a token."""
        run: list[int] = []
        words = 0
        index += step
        while 0 <= index < len(self._tokens) and sum(len(self._keys(i)) for i in run) < count:
            token = self._tokens[index]
            if token.kind in (Kind.FIBRE, Kind.OTHER):
                run.append(index)
                words = 0
            elif token.kind is Kind.WORD and words < _MAX_WORDS:
                words += 1
            elif token.kind is not Kind.SOFT or "\x01" in token.text:
                break
            index += step
        return run

    def _bare_numbers(self) -> list[Entry]:
        """Take "95 poly 5 span" as shares if the figures stand by fibres and fit together."""
        figures = [i for i, token in enumerate(self._tokens) if token.kind is Kind.NUMBER]
        for step in (1, -1):
            pairs = [(i, *self._neighbour(i, step)) for i in figures]
            close = [(i, fibre) for i, fibre, cost in pairs if cost <= 0.3]
            total = sum(self._tokens[i].numbers[0] for i, _ in close)
            if len({fibre for _, fibre in close}) < len(close):
                continue
            if SHARES_LOW <= total <= SHARES_HIGH or (len(close) > 1 and 50 <= total <= 150):
                self.notes.append("numbers beside fibres are taken as percentages")
                return [entry for i, fibre in close for entry in self._entry(i, fibre)]
        return []

    def _check_lonely(self, some: bool) -> None:
        """Refuse a percentage beside an unknown word; pass over one beside a known word."""
        for index, token in enumerate(self._tokens):
            if token.kind not in (Kind.PERCENT, Kind.RATIO) or index in self._paired:
                continue
            if token.kind is Kind.RATIO:
                self.notes.append(f"{token.text.strip()} stands by no fibre and is not used")
                continue
            beside = self._beside(index)
            if beside is not None and beside.start not in self._harmless:
                self._unknown(token, beside)
            if beside is None and not some:
                raise InputError(
                    f"{token.text.strip()} of what? No fibre stands beside it",
                    self._label.place(token.start, token.end),
                    "name the fibre, or leave the percentage out",
                )
            name = f" {beside.text}" if beside is not None else ""
            self.notes.append(f"{token.text.strip()}{name} names no fibre and is not used")

    def _beside(self, index: int) -> Token | None:
        """Return the word next to a percentage that no comma parts from it."""
        for step in (1, -1):
            place = index + step
            while 0 <= place < len(self._tokens):
                token = self._tokens[place]
                if token.kind in (Kind.WORD, Kind.PART):
                    return token
                if token.kind is not Kind.SOFT or token.text.strip() not in ("-", ":", "(", "."):
                    break
                place += step
        return None

    def _unknown(self, percent: Token, word: Token) -> None:
        if word.kind is Kind.PART:
            return
        try:
            find_fibre(word.text)
        except InputError as error:
            start, end = min(percent.start, word.start), max(percent.end, word.end)
            raise type(error)(error.message, self._label.place(start, end), error.hint) from None

    def _without_share(self) -> list[Entry]:
        entries: list[Entry] = []
        for index, token in enumerate(self._tokens):
            if token.fibre is not None and index not in self._used:
                entries += [
                    Entry(key, None, token.start, token.end, token.fibre.weak, usual)
                    for key, usual in token.fibre.fibres
                ]
        return entries


def _fibre_count(run: list[int]) -> int:
    return len(run)


def _without_colours(tokens: list[Token]) -> list[Token]:
    """Turn "gold" before another fibre into a mere word."""
    kept: list[Token] = []
    for index, token in enumerate(tokens):
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        colour = token.kind is Kind.FIBRE and token.text in _COLOURS
        if colour and after is not None and after.kind is Kind.FIBRE:
            kept.append(Token(Kind.WORD, token.start, token.end, token.text))
        else:
            kept.append(token)
    return kept
