"""Pieces out of stock lengths with little waste: first fit, longest piece first."""

from collections.abc import Sequence

from plumbing.frozen import frozen


@frozen
class Bar:
    """One stock length and the pieces cut from it.

    Attributes
    ----------
    length : float
        Stock length [m]; longer than the usual one where a single piece is.
    pieces : tuple of int
        Places of the pieces in the list given, longest first.
    used : float
        Pieces and saw cuts together [m].
    """

    length: float
    pieces: tuple[int, ...]
    used: float

    @property
    def left(self) -> float:
        """What is left over [m]."""
        return max(self.length - self.used, 0.0)


def first_fit(lengths: Sequence[float], stock: float, kerf: float = 0.0) -> tuple[Bar, ...]:
    """Lay pieces into stock lengths.

    Each piece, longest first, goes into the first length that has room. This needs at most 11/9
    of the fewest lengths possible and 6/9 of one more.

    Parameters
    ----------
    lengths : sequence of float
        Pieces [m], all above 0.
    stock : float
        Stock length [m].
    kerf : float
        Lost at every cut [m].

    Returns
    -------
    tuple of Bar
        In the order they are begun. A piece longer than the stock gets a length of its own.

    References
    ----------
    G. Dosa, The tight bound of first fit decreasing bin-packing algorithm is
    FFD(I) <= 11/9 OPT(I) + 6/9, ESCAPE 2007, Lecture Notes in Computer Science 4614.
    """
    room: list[float] = []
    pieces: list[list[int]] = []
    for place in sorted(range(len(lengths)), key=lambda k: (-lengths[k], k)):
        need = lengths[place] + kerf
        at = next((k for k, left in enumerate(room) if need <= left + 1e-9), None)
        if at is None:
            room.append(max(stock + kerf, need))  # the last piece needs no cut behind it
            pieces.append([])
            at = len(room) - 1
        room[at] -= need
        pieces[at].append(place)
    return tuple(
        Bar(
            length=max(stock, *(lengths[k] for k in taken)),
            pieces=tuple(taken),
            used=sum(lengths[k] for k in taken) + kerf * (len(taken) - 1),
        )
        for taken in pieces
    )
