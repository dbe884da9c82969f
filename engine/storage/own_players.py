"""Players files: format "baizewright-players", the levels chances are told for."""

from __future__ import annotations

from collections.abc import Iterable

from engine.errors import Fault, RoutineFileError
from engine.players import Player
from engine.storage.files import StrPath, read_text, save_text
from engine.storage.shape import shape_faults
from engine.storage.text import read_json
from engine.storage.versions import brought_up_to_date
from engine.storage.write import json_text
from engine.storage.writing import SAVING, WriteRules

PLAYERS_FORMAT, PLAYERS_VERSION = "baizewright-players", 1


def parse_players(text: str, name: str = "players") -> tuple[Player, ...]:
    """The players in `text`, in the file's order; `RoutineFileError` lists every fault."""
    data, faults, _ = read_json(text, name, "players file")
    data = brought_up_to_date(
        data, name, latest=PLAYERS_VERSION, migrations={}, form=(PLAYERS_FORMAT, "players file")
    )
    faults += [fault for _, fault in shape_faults(data, "players")]
    if faults:
        raise RoutineFileError(name, faults)
    found: dict[str, Player] = {}
    for index, one in enumerate(data["players"]):
        if one["name"] in found:
            message = f"is {one['name']!r} again, wanted a name of its own for every player"
            faults.append(Fault(f"players[{index}].name", message))
        found[one["name"]] = Player(
            one["name"], one["aim_deg"], one["tip_height_ratio"], one["side_ratio"], one["pace"]
        )
    if faults:
        raise RoutineFileError(name, faults)
    return tuple(found.values())


def load_players(path: StrPath) -> tuple[Player, ...]:
    """The players in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_players(read_text(path), str(path))


def dump_players(players: Iterable[Player]) -> str:
    """The text of a players file."""
    return json_text(
        {
            "format": PLAYERS_FORMAT,
            "version": PLAYERS_VERSION,
            "players": [
                {
                    "name": player.name,
                    "aim_deg": player.aim_deg,
                    "tip_height_ratio": player.tip_height,
                    "side_ratio": player.side,
                    "pace": player.pace,
                }
                for player in players
            ],
        }
    )


def save_players(players: Iterable[Player], path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write a players file as safely as a routine's."""
    save_text(dump_players(players), path, "players", rules)
