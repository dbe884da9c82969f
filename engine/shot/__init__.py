"""The shot engine: events of all balls found exactly, for one shot or thousands."""
