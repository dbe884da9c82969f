"""The reach of a routine's gaps as text a coach can read in a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from engine.answers.claims import claim_sentence
from engine.reach.verdicts import NO_VERDICT
from engine.routine.values import Routine


def reach_report(file: str, routine: Routine, found: dict[str, Any]) -> str:
    """Everything `reach` tells of one routine, from its JSON; no line end after the last line."""
    lines = [f"{routine.title or 'Routine without a title'} ({file})"]
    if not routine.gaps:
        lines.append("  The routine names no gaps.")
    for verdict in found["verdicts"]:
        lines += _verdict(verdict)
    for one in found["refusals"]:
        lines += ["", f"  {NO_VERDICT}: {one['reason']}"]
    if "advice" in found:
        lines += _advice(routine, found["advice"])
    return "\n".join(lines)


def _verdict(verdict: dict[str, Any]) -> Iterator[str]:
    yield ""
    if verdict["sentence"].startswith(NO_VERDICT):
        yield f"  Shot {verdict['shot']}, gap {verdict['gap']}"
        yield f"    {verdict['sentence']}"
        return
    yield (
        f"  Shot {verdict['shot']}, gap {verdict['gap']}, {verdict['width_mm']:.0f} mm wide: "
        f"{'reachable' if verdict['reachable'] else 'not reachable'}"
    )
    yield f"    {verdict['sentence']}"
    for window in verdict["windows"]:
        yield f"    window: {_window(window)}"
    if verdict["slivers"]:
        count = verdict["slivers"]
        what = "one window" if count == 1 else f"{count} windows"
        yield f"    left out: {what} too thin for anyone to play on purpose"
    if verdict["limit"]:
        yield f"    what stops it: {verdict['limit']}"
    if verdict["choice"] is not None:
        yield from _choice(verdict["choice"])


def _window(window: dict[str, Any]) -> str:
    return (
        f"tip {window['tip_min_ratio']:+.3f} to {window['tip_max_ratio']:+.3f}, "
        f"pace {window['pace_min']:.2f} to {window['pace_max']:.2f}; "
        f"most room {window['best_margin_mm']:.1f} mm at tip {window['best_tip_ratio']:+.3f}, "
        f"pace {window['best_pace']:.2f}"
    )


def _choice(choice: dict[str, Any]) -> Iterator[str]:
    yield (
        f"    forgives most: {choice['strike_name']}, tip {choice['tip_height_ratio']:+.3f}, "
        f"pace {choice['pace']:.2f} ({choice['speed_m_s']:.2f} m/s), "
        f"{choice['margin_mm']:.1f} mm of room"
    )
    for one in choice["chances"]:
        yield (
            f"      chance of a {one['player']}: {_percent(one['chance'])} "
            f"({_percent(one['low'])} to {_percent(one['high'])})"
        )
    aim, tip, side, pace = (
        choice[key]
        for key in ("aim_error_deg", "tip_error_ratio", "side_error_ratio", "pace_error")
    )
    yield (
        f"      each alone, it forgives: aim {_either(aim, '°')}; tip height {_either(tip)}; "
        f"side {_either(side)}; pace {_either(pace, places=1)}"
    )


def _percent(share: float) -> str:
    """A share in whole percent; all and none are only said of all and none.

    >>> _percent(0.674), _percent(0.998), _percent(0.001), _percent(1.0)
    ('67 %', 'over 99 %', 'under 1 %', '100 %')
    """
    if 0.995 <= share < 1.0:
        return "over 99 %"
    if 0.0 < share < 0.005:
        return "under 1 %"
    return f"{100.0 * share:.0f} %"


def _either(ends: list[float], unit: str = "", places: int = 2) -> str:
    low, high = ends
    return f"−{low:.{places}f}{unit} to +{high:.{places}f}{unit}"


def _advice(routine: Routine, advice: dict[str, Any]) -> Iterator[str]:
    wish = advice["wish"]
    yield ""
    asked = f"pace {wish['pace_min']:g} to {wish['pace_max']:g}"
    if wish["margin_mm"]:
        asked += f", {wish['margin_mm']:g} mm of room or more"
    if wish["apart_mm"]:
        asked += f", lanes {wish['apart_mm']:g} mm apart or more"
    yield f"  Advice for gap {wish['gap']} in shot {wish['shot']} ({asked}):"
    if not advice["proposals"]:
        yield "    no move of one or two balls within 300 mm was found that does it"
    for number, one in enumerate(advice["proposals"], 1):
        yield f"    {number}. {one['sentence']}"
        for index in one["claims_lost"]:
            yield f"       no longer true then: {claim_sentence(routine.claims[index])}"
        if one["lanes_apart_mm"] is not None:
            yield f"       the lanes then lie {one['lanes_apart_mm']:.0f} mm apart or more"
