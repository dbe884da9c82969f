"""`library`: index, find, alike, tag and step, without a screen."""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from pathlib import Path
from typing import Any

from designer.commands.exit_codes import BAD_INPUT
from designer.commands.files import tell
from designer.commands.progress import Told
from designer.places import index_file
from engine.errors import BaizewrightError, OutOfRangeError
from engine.library import Entry, Library, Query, as_argument, families, query_of, tag_file


def run(asked: argparse.Namespace) -> int:
    """Run one action; 2 after a message for bad input."""
    if asked.action == "tag":
        return _tag(asked)
    if asked.action == "step":
        from designer.commands.stepping import step

        return step(asked)
    try:
        library = Library(asked.library or ["."], asked.index or index_file())
        try:
            return {"index": _index, "find": _find, "alike": _alike}[asked.action](library, asked)
        finally:
            library.close()
    except BaizewrightError as error:
        tell("library", error)
        return BAD_INPUT


def _index(library: Library, asked: argparse.Namespace) -> int:
    told = Told("reading", "files")
    found = library.rebuild(told) if asked.anew else library.refresh(told)
    print(
        f"{library.count()} routines; {found.new} new, {found.changed} changed, {found.gone} gone, "
        f"{library.count(Query(faulty=True))} that cannot be read (see --faulty of `library find`)."
    )
    for folder in found.unreadable:
        print(f"{folder} could not be looked into.")
    if asked.reach:
        done = library.look_at_reach(Told("looking at reach"))
        print(f"Lowest paces worked out for {done} routines.")
    return 0


def _find(library: Library, asked: argparse.Namespace) -> int:
    library.refresh(Told("reading", "files"))
    query = query_of(" ".join(map(as_argument, asked.words)))
    query = replace(
        query,
        skills=(*query.skills, *asked.skill),
        tags=(*query.tags, *asked.tag),
        pockets=(*query.pockets, *asked.pocket),
        faulty=asked.faulty,
    )
    if asked.level is not None:
        query = replace(query, level_least=asked.level, level_most=asked.level)
    if asked.balls_most is not None:
        query = replace(query, balls_most=asked.balls_most)
    if asked.pace_most is not None:
        query = replace(query, pace_most=asked.pace_most)
    if query.pace_most is not None:
        library.look_at_reach(Told("looking at reach"))
    found = library.search(query)
    if asked.json:
        print(json.dumps({"routines": [_json(entry) for entry in found]}, indent=2))
    else:
        for entry in found:
            print(_line(entry))
        print(f"{len(found)} of {library.count()} routines.")
    return 0


def _alike(library: Library, asked: argparse.Namespace) -> int:
    if not 0.0 <= asked.within <= 500.0:
        raise OutOfRangeError("--within", asked.within, "0 to 500 mm")
    library.refresh(Told("reading", "files"))
    pairs = library.alike(asked.within, mirrors=not asked.no_mirror, progress=Told("comparing"))
    entries = library.entries([key for pair in pairs for key in (pair.one, pair.other)])
    for pair in pairs:
        mirrored = f", mirrored ({pair.mirrored})" if pair.mirrored else ""
        print(
            f"{pair.apart_mm:.0f} mm at most{mirrored}:\n"
            f"  {entries[pair.one].path}\n  {entries[pair.other].path}"
        )
    count = len(families(pairs))
    print(f"{len(pairs)} pairs, in {count} group{'s' if count != 1 else ''}.")
    return 0


def _tag(asked: argparse.Namespace) -> int:
    failed = False
    for file in asked.files:
        try:
            tags = tag_file(file, asked.add, asked.drop)
            print(f"{file}: {', '.join(tags) if tags else 'no tags'}")
        except BaizewrightError as error:
            tell(file, error)
            failed = True
    return BAD_INPUT if failed else 0


def _line(entry: Entry) -> str:
    if entry.fault:
        return f"{entry.path}\n  {entry.fault}"
    parts = [f"level {entry.level}", f"{entry.balls} balls", ", ".join(entry.skills)]
    if entry.lowest_pace is not None:
        parts.append(f"reachable from pace {entry.lowest_pace:g}")
    if entry.tags:
        parts.append("tags: " + ", ".join(entry.tags))
    return f"{entry.title}  ({'; '.join(part for part in parts if part)})\n  {entry.path}"


def _json(entry: Entry) -> dict[str, Any]:
    return {
        "file": str(Path(entry.path)),
        "title": entry.title,
        "coach": entry.coach,
        "club": entry.club,
        "level": entry.level,
        "table": entry.table,
        "ball_count": entry.balls,
        "shot_count": entry.shots,
        "gap_count": entry.gaps,
        "lowest_pace": entry.lowest_pace,
        "reach_known": entry.reach_known,
        "skills": list(entry.skills),
        "tags": list(entry.tags),
        "fault": entry.fault,
    }
