"""The window: start-up, menus, and what wires the rooms to the open routine."""
