"""With what a command ends: scripts rely on these."""

#: Every claim holds; some claim fails; something given cannot be read or answered.
HOLDS, FAILS, BAD_INPUT = 0, 1, 2

#: Stopped from the keyboard, as shells have it (128 + SIGINT).
STOPPED = 130
