"""Players files: format "baizewright-players", the levels chances are told for."""

from __future__ import annotations

from collections.abc import Iterable

from engine.players import Player
from engine.storage.document import Form, read_document
from engine.storage.files import save_text
from engine.storage.reading import StrPath, read_text
from engine.storage.write import json_text
from engine.storage.writing import SAVING, WriteRules

FORM = Form("baizewright-players", 1, "players file", "players")


def parse_players(text: str, name: str = "players") -> tuple[Player, ...]:
    """The players in `text`, in the file's order; `RoutineFileError` lists every fault."""
    data, findings = read_document(text, name, FORM)
    findings.hold()
    found: dict[str, Player] = {}
    for index, one in enumerate(data["players"]):
        if one["name"] in found:
            message = f"is {one['name']!r} again, wanted a name of its own for every player"
            findings.add(f"players[{index}].name", message)
        found[one["name"]] = Player(
            one["name"], one["aim_deg"], one["tip_height_ratio"], one["side_ratio"], one["pace"]
        )
    findings.hold()
    return tuple(found.values())


def load_players(path: StrPath) -> tuple[Player, ...]:
    """The players in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_players(read_text(path, kind=FORM.word), str(path))


def dump_players(players: Iterable[Player]) -> str:
    """The text of a players file."""
    return json_text(
        {
            "format": FORM.format,
            "version": FORM.version,
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
