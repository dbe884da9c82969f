"""What the window's parts share: the open routine, what is selected, its answers, the view.

The parts never know each other: each reads a `OpenRoutine`, listens to its signals, and asks it for
changes. The session in turn only wraps the document and the engine for Qt.
"""

from designer.open_routine.messages import Message, Messages
from designer.open_routine.open_routine import OpenRoutine
from designer.open_routine.predictions import Predictions
from designer.open_routine.settings import Settings
from designer.open_routine.view import View

__all__ = ["Message", "Messages", "OpenRoutine", "Predictions", "Settings", "View"]
