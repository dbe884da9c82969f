"""What the window's parts share: the open routine, what is selected, its answers, the view.

The parts never know each other: each reads a `Session`, listens to its signals, and asks it for
changes. The session in turn only wraps the document and the engine for Qt.
"""

from designer.session.messages import Message, Messages
from designer.session.predictions import Predictions
from designer.session.session import Session
from designer.session.settings import Settings
from designer.session.view import View

__all__ = ["Message", "Messages", "Predictions", "Session", "Settings", "View"]
