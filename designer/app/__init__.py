"""The window: start-up, menus, files, and what wires canvas and panels to the session."""
