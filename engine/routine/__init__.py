"""The routine: its values, its document with observers, and its reversible edits."""
