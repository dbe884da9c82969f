"""Arguments of every command, made from the parser itself: meant, nearly meant, and nonsense."""

from __future__ import annotations

import argparse
import random
from collections.abc import Callable, Iterator
from functools import cache

#: Gives the name of a file for an option of a command that wants one; made by who has files.
Files = Callable[[random.Random, tuple[str, ...], argparse.Action], str]
Name = Callable[[argparse.Action], str]
WORDS = (
    "s", "a", "g", "A", "cue", "", " ", "QZ", "Blue", "x" * 300, "é" * 61, "=1+1", "-1", "--", "-",
    "a\nb", "a\0b", "\udce9", "<b>&amp;", "\u202e", "😀", "2026-03-01", "2026-02-30", "club player",
    "learner", "usual", "keep", "table", "lanes,bands", "gaps,no-such-layer", "snooker-12ft",
    "carom", "pot=1", "pot=x", "=", "rolling_resistance=0.0005", "rolling_resistance=nan", "1-5",
    "skill:screw", "balls<=3", "pace<=x", "level>=99999999999999999999", "tag:\"a b\"", '"', "%s",
    "{}", "@file", "2020-01-01T00:00:00Z", "1e999", "0",
)  # fmt: skip
NUMBERS = (
    "0", "1", "2", "3", "5", "10", "-1", "0.5", "15", "20", "100", "1e3", "nan", "inf", "-inf",
    "1e308", "1e-320", "9" * 30, "", "x", "1,5", "٣", "0x10", "1_0",
)  # fmt: skip


def options_of(
    parser: argparse.ArgumentParser, words: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], list[argparse.Action]]]:
    """Every command of the parser by its words, with its options and arguments."""
    inner = [one for one in parser._actions if isinstance(one, argparse._SubParsersAction)]
    if not inner:
        yield words, [one for one in parser._actions if one.dest != "help"]
    for choices in inner:
        for name, one in choices.choices.items():
            yield from options_of(one, (*words, name))


@cache
def commands() -> tuple[tuple[tuple[str, ...], list[argparse.Action]], ...]:
    """The commands there are."""
    from designer.commands.main import parser

    return tuple(options_of(parser()))


def any_arguments(dice: random.Random, file: Files | None = None) -> tuple[str, ...]:
    """Arguments for some command."""
    words, options = dice.choice(commands())
    name = file or _any_name
    return (*words, *_options(dice, options, lambda option: name(dice, words, option)))


def spoilt(dice: random.Random, arguments: tuple[str, ...]) -> tuple[str, ...]:
    """The arguments with one of them lost, doubled, moved, or another in its place."""
    made = list(arguments)
    at, what = dice.randrange(len(made)), dice.randrange(5)
    if what == 0:
        del made[at]
    elif what == 1:
        made.insert(at, made[dice.randrange(len(made))])
    elif what == 2:
        made.insert(
            dice.randint(0, len(made)), dice.choice((*WORDS, "-o", "--json", "--out", "-h"))
        )
    elif what == 3:
        made[at] = dice.choice((*WORDS, *NUMBERS))
    else:
        dice.shuffle(made)
    # the first word says that it is a command: without one the window would open
    return (arguments[0], *(made[1:] if made[:1] == [arguments[0]] else made))


def _options(dice: random.Random, options: list[argparse.Action], file: Name) -> list[str]:
    made: list[list[str]] = []
    plenty = dice.random()
    groups = [one for one in options if one.required or dice.random() < 0.5 * plenty]
    for option in groups:
        if not option.option_strings:
            made.append(_positional(dice, option, file))
            continue
        name = dice.choice(option.option_strings)
        if option.nargs == 0:
            made.append([name])
            continue
        times = dice.choice([1, 1, 1, 2]) if isinstance(option, argparse._AppendAction) else 1
        for _ in range(times):
            value = _value(dice, option, file)
            joined = name.startswith("--") and (value.startswith("-") or dice.random() < 0.3)
            made.append([f"{name}={value}"] if joined else [name, value])
    made += [_one_of_a_group(dice, options)] if dice.random() < 0.9 else []
    if dice.random() < 0.3:
        dice.shuffle(made)
    flat = [word for part in made for word in part]
    return list(spoilt(dice, ("x", *flat))[1:]) if dice.random() < 0.1 else flat


def _one_of_a_group(dice: random.Random, options: list[argparse.Action]) -> list[str]:
    """One of the options of which one must be there, such as --harder or --easier."""
    either = [one for one in options if one.dest in ("harder", "easier")]
    if not either:
        return []
    return [dice.choice(dice.choice(either).option_strings), dice.choice(["5", "15", "-3", "x"])]


def _positional(dice: random.Random, option: argparse.Action, file: Name) -> list[str]:
    most = {"+": 3, "*": 3, "?": 1}.get(str(option.nargs), 1)
    least = 0 if option.nargs in ("*", "?") else 1
    return [_value(dice, option, file) for _ in range(dice.randint(least, most))]


def _value(dice: random.Random, option: argparse.Action, file: Name) -> str:
    from designer.commands.main import FILES

    if dice.random() < 0.02:
        return dice.choice((*WORDS, *NUMBERS))
    if option.choices is not None:
        return str(dice.choice(list(option.choices)))
    if option.dest == "steps":  # each may take seconds
        return dice.choice(("1", "1", "2", "0", "-1", "x"))
    if option.type in (int, float):
        return dice.choice(NUMBERS[:12] if dice.random() < 0.8 else NUMBERS)
    if option.dest in FILES:
        return file(option)
    return dice.choice(WORDS)


def _any_name(dice: random.Random, _words: tuple[str, ...], _option: argparse.Action) -> str:
    return dice.choice(("a.json", "b.csv", "c.pdf", "d.svg", *WORDS))
