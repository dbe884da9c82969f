"""A photograph of the table beside its plan."""
