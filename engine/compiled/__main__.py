"""`python -m engine.compiled`: compile what is not compiled yet, telling how far it has come."""

from engine.compiled.machine_code import prepare
from engine.compiled.progress import Line

prepare(Line())
