"""Names as a coach reads them, never the ids of a file: of balls, gaps, shots, marks, pockets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import lru_cache

from designer.texts import catalogue, listed, mark, tr
from engine.routine.values import Gap, Routine
from engine.tables import Table

KIND_NAMES: dict[str, str] = {
    "cue": mark("cue ball"),
    "red": mark("red"),
    "yellow": mark("yellow"),
    "green": mark("green"),
    "brown": mark("brown"),
    "blue": mark("blue"),
    "pink": mark("pink"),
    "black": mark("black"),
    "plain": mark("plain ball"),
}
MARK_NAMES = {"cross": mark("cross"), "dot": mark("dot"), "line": mark("line")}
_CUSHIONS = {
    "left": mark("left cushion"),
    "right": mark("right cushion"),
    "bottom": mark("bottom cushion"),
    "top": mark("top cushion"),
}
_CUSHION_SIDES = {
    "left": mark("left"),
    "right": mark("right"),
    "bottom": mark("bottom"),
    "top": mark("top"),
}


def printed_letters(routine: Routine) -> dict[str, str]:
    """Ball id to printed letter; balls that share a letter are numbered in their order.

    >>> from engine.balls import Ball
    >>> reds = (Ball("a", "red", 500, 500), Ball("b", "red", 700, 500), Ball("k", "black", 9, 9))
    >>> printed_letters(Routine(balls=reds))
    {'a': 'R1', 'b': 'R2', 'k': 'Bk'}
    """
    return dict(_letters(tuple((ball.id, ball.letter) for ball in routine.balls)))


@lru_cache(maxsize=64)
def _letters(balls: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """The same for ids with their letters: a drag changes neither."""
    shared = Counter(letter for _, letter in balls)
    used: Counter[str] = Counter()
    letters = {}
    for ball_id, letter in balls:
        if letter and shared[letter] > 1:
            used[letter] += 1
            letters[ball_id] = f"{letter}{used[letter]}"
        else:
            letters[ball_id] = letter
    return letters


def ball_names(routine: Routine) -> dict[str, str]:
    """Ball id to what a coach calls it: the black, the cue ball, red R2, ball 7.

    >>> from engine.balls import Ball
    >>> ball_names(Routine(balls=(Ball("c", "cue", 1, 1), Ball("p", "plain", 9, 9, label="7"))))
    {'c': 'cue ball', 'p': 'ball 7'}
    """
    balls = tuple((ball.id, ball.letter, ball.kind, ball.label) for ball in routine.balls)
    return dict(_names(balls, catalogue()))


@lru_cache(maxsize=64)
def _names(balls: tuple[tuple[str, str, str, str], ...], _: object) -> dict[str, str]:
    """The same by what names rest on, in the language of a catalogue."""
    letters = _letters(tuple((ball_id, letter) for ball_id, letter, _, _ in balls))
    kinds = Counter(kind for _, _, kind, _ in balls)
    words = {}
    for ball_id, _, kind, label in balls:
        if kind == "plain":
            words[ball_id] = tr("ball {letter}", letter=letters[ball_id] or ball_id)
        else:
            name = kind_name(kind)
            alone = kinds[kind] == 1 and not label
            words[ball_id] = (
                name if alone else tr("{ball} {letter}", ball=name, letter=letters[ball_id])
            )
    return words


def ball_name(routine: Routine, ball_id: str) -> str:
    """The coach's name of the ball of that id; its id as words if it is gone."""
    return ball_names(routine).get(ball_id) or id_as_words(ball_id)


def id_as_words(name: str) -> str:
    """An id as words.

    >>> id_as_words("red-1")
    'red 1'
    """
    return name.replace("-", " ").replace("_", " ")


def kind_name(kind: str) -> str:
    """A kind of ball: "red", "cue ball"."""
    return tr(KIND_NAMES.get(kind, kind))


def mark_name(routine: Routine, mark_id: str) -> str:
    """A cloth mark by its form and number: "cross 2"."""
    at = next((i for i, one in enumerate(routine.cloth_marks) if one.id == mark_id), None)
    if at is None:
        return id_as_words(mark_id)
    kind = tr(MARK_NAMES[routine.cloth_marks[at].kind])
    return tr("{mark} {number}", mark=kind, number=at + 1)


def cushion_name(cushion: str) -> str:
    """A cushion by its id: "left cushion"."""
    return tr(_CUSHIONS.get(cushion, cushion))


def cushion_side(cushion: str) -> str:
    """A cushion by its id, where the word cushion is said already: "left"."""
    return tr(_CUSHION_SIDES.get(cushion, cushion))


def pocket_name(table: Table, pocket_id: str) -> str:
    """What a table calls a pocket: "top right pocket"; the id as words where it has none such."""
    title = next((one.title for one in table.pockets if one.id == pocket_id), "")
    return tr(title) if title else id_as_words(pocket_id)


def spot_name(spot: str) -> str:
    """A spot by the title a table gives it, or that title without its last word.

    >>> spot_name("blue spot"), spot_name("blue")
    ('blue spot', 'blue spot')
    """
    title = f"{spot.removesuffix(' spot')} spot"
    return tr(title)


def gap_name(routine: Routine, gap: Gap) -> str:
    """Title of a gap, or what it lies between, or its number.

    >>> from engine.balls import Ball
    >>> reds = (Ball("a", "red", 500, 500), Ball("b", "red", 700, 500))
    >>> gap = Gap("gap-1", "ball-ball", ("a", "b"))
    >>> gap_name(Routine(balls=reds, gaps=(gap,)), gap)
    'red R1 and red R2'
    """
    if gap.title:
        return gap.title
    balls = [ball_name(routine, ball_id) for ball_id in gap.balls]
    if gap.kind == "ball-ball" and len(balls) == 2:
        return listed(balls)
    if gap.kind == "ball-cushion" and balls:
        return listed([balls[0], cushion_name(gap.cushion)])
    if gap.kind == "cushion-stretch":
        return tr("stretch of {cushion}", cushion=cushion_name(gap.cushion))
    if gap.kind == "cannon" and balls:
        return tr("cannon on {ball}", ball=balls[0])
    # Areas of cloth and gaps taken in order have nothing to be named by.
    return tr("gap {number}", number=routine.gaps.index(gap) + 1 if gap in routine.gaps else 1)


def gap_called(routine: Routine, gap_id: str) -> str:
    """A gap by its id, in a sentence: 'gap “red R1 and red R2”'."""
    gap = next((one for one in routine.gaps if one.id == gap_id), None)
    name = id_as_words(gap_id) if gap is None else gap_name(routine, gap)
    return tr("gap “{gap}”", gap=name)


def shot_name(routine: Routine, shot_id: str) -> str:
    """A shot by its title in quotes, or its number: "shot 2"."""
    shot = next((one for one in routine.shots if one.id == shot_id), None)
    if shot is None:
        return id_as_words(shot_id)
    if shot.title:
        return tr("shot “{title}”", title=shot.title)
    return tr("shot {number}", number=routine.shots.index(shot) + 1)


def gone_with_balls(routine: Routine, ball_ids: Iterable[str]) -> list[str]:
    """What loses its ball or goes with these balls."""
    away = set(ball_ids)
    shots = [
        tr("object ball of {shot}", shot=shot_name(routine, shot.id))
        for shot in routine.shots
        if shot.object_ball in away
    ]
    gone = {gap.id for gap in routine.gaps if away & set(gap.balls)}
    gaps = [gap_called(routine, gap.id) for gap in routine.gaps if gap.id in gone]
    claims = [
        tr("claim {number}", number=number)
        for number, claim in enumerate(routine.claims, start=1)
        if claim.ball in away or claim.gap in gone
    ]
    return [*shots, *gaps, *claims]


def shortened(text: str, most: int = 120) -> str:
    """A name short enough for its place, cut after a word if it can be.

    >>> shortened("Between the reds"), shortened("on and on and on", 12)
    ('Between the reds', 'on and on …')
    """
    if len(text) <= most:
        return text
    return (text[: most - 2].rsplit(" ", 1)[0] or text[: most - 2]).rstrip() + " …"
