"""The ways of moving a routine that the command line offers are the engine's."""

from designer.commands.table_options import MOVE_BY
from engine.moving import WAYS


def test_the_ways_of_the_command_line_are_the_engines():
    assert MOVE_BY == WAYS
