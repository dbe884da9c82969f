"""Windows of the shelf: the library, session plans, practice records.

They stand beside the table and know neither canvas nor panels; what they want of the window
that opened them they ask for by signals.
"""

from designer.shelf.shelf import Shelf

__all__ = ["Shelf"]
