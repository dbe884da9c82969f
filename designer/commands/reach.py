"""`reach`: the windows of tip height and pace of every gap."""

from __future__ import annotations

from designer.commands.check import BAD_INPUT, json_text
from designer.commands.files import read_routine, tell
from engine.errors import BaizewrightError
from engine.routine.values import Routine


def reach(file: str, as_json: bool = False) -> int:
    """Print the reach of every gap of a routine; 2 when the file cannot be read or answered."""
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT
    from engine.answers import reach_to_json

    try:
        found = reach_to_json(routine)
    except BaizewrightError as error:
        tell(file, error)
        return BAD_INPUT
    print(json_text({"file": file, **found}) if as_json else _text(file, routine, found))
    return 0


def _text(file: str, routine: Routine, found: dict) -> str:
    lines = [f"{routine.title or 'Routine without a title'} ({file})"]
    if not routine.gaps:
        lines.append("  The routine names no gaps.")
    for verdict in found["verdicts"]:
        lines.append("")
        lines.append(
            f"  Shot {verdict['shot']}, gap {verdict['gap']}, {verdict['width_mm']:.0f} mm wide: "
            f"{'reachable' if verdict['reachable'] else 'not reachable'}"
        )
        lines.append(f"    {verdict['sentence']}")
        lines += [f"    {_window(window)}" for window in verdict["windows"]]
    lines += [f"\n  Shot {one['shot']}: {one['reason']}" for one in found["refusals"]]
    return "\n".join(lines)


def _window(window: dict) -> str:
    return (
        f"tip {window['tip_min_ratio']:+.2f} to {window['tip_max_ratio']:+.2f}, "
        f"pace {window['pace_min']:g} to {window['pace_max']:g}; "
        f"most room {window['best_margin_mm']:.1f} mm at tip {window['best_tip_ratio']:+.2f}, "
        f"pace {window['best_pace']:g}"
    )
