"""Every answer as frozen values with units in their names: facts and kinds, never sentences."""
