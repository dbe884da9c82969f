"""Players: how far a strike strays from what was meant, as standard errors.

Three invented levels to start from; every figure can be edited. They are a coach's guesses, not
measurements: no source. They hold for a stroke of pace 4 and grow with harder ones, as
`engine.playing.straying` says.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.errors import OutOfRangeError, UnknownNameError


@dataclass(frozen=True, slots=True)
class Player:
    """Standard errors of one player's strike at pace 4.

    `aim_deg`: direction of the cue ball; `tip_height` and `side`: where the tip meets the ball,
    over the radius; `pace`: on the 1–10 scale.
    """

    name: str
    aim_deg: float
    tip_height: float
    side: float
    pace: float

    def __post_init__(self) -> None:
        for what in ("aim_deg", "tip_height", "side", "pace"):
            if not 0.0 <= getattr(self, what) <= 10.0:
                raise OutOfRangeError(
                    f"{what} of player {self.name}", getattr(self, what), "0 to 10"
                )


LEARNER = Player("learner", aim_deg=0.25, tip_height=0.08, side=0.06, pace=0.8)
CLUB = Player("club player", aim_deg=0.12, tip_height=0.05, side=0.03, pace=0.5)
COUNTY = Player("county player", aim_deg=0.06, tip_height=0.03, side=0.015, pace=0.3)
PLAYERS: tuple[Player, ...] = (LEARNER, CLUB, COUNTY)


def player_named(name: str) -> Player:
    """The invented level of that name; `UnknownNameError` lists the ones there are."""
    for player in PLAYERS:
        if player.name == name:
            return player
    raise UnknownNameError("player level", name, [player.name for player in PLAYERS])
