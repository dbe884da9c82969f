"""The lesson: the routine’s questions on a whole screen, for a player to answer."""
