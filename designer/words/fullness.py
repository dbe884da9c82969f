"""How full a ball is taken, in the trade's names where they are honest."""

from __future__ import annotations

from designer.texts import mark, tr

#: A fullness is called by a name only so near to it; between two it is told as between.
NEAR = 0.05
_NAMED = (
    (1.0, mark("full ball")),
    (0.75, mark("three-quarter ball")),
    (0.5, mark("half ball")),
    (0.25, mark("quarter ball")),
)
_BETWEEN = (
    (0.75, mark("between three-quarter and full, {share} of the ball")),
    (0.5, mark("between half and three-quarter, {share} of the ball")),
    (0.25, mark("between quarter and half, {share} of the ball")),
    (0.125, mark("thinner than quarter, {share} of the ball")),
    (0.0, mark("fine, {share} of the ball")),
)


def fullness_in_short(share: float) -> str:
    """A name near it, else the figure.

    >>> fullness_in_short(0.52), fullness_in_short(0.62)
    ('half ball', '0.62 of the ball')
    """
    named = next((name for at, name in _NAMED if abs(share - at) <= NEAR + 1e-9), None)
    return tr(named) if named else tr("{share} of the ball", share=f"{share:.2f}")


def fullness(share: float) -> str:
    """How full a ball is taken: a name near it, else the figure between two names.

    >>> fullness(0.52), fullness(0.62), fullness(0.06)
    ('half ball', 'between half and three-quarter, 0.62 of the ball', 'fine, 0.06 of the ball')
    """
    if any(abs(share - at) <= NEAR + 1e-9 for at, _ in _NAMED):
        return fullness_in_short(share)
    told = next((one for least, one in _BETWEEN if share > least), None)
    return tr(told, share=f"{share:.2f}") if told else tr("a miss")
