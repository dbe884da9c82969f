"""Storage: the only place of the engine that touches the disk."""
