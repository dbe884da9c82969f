"""Parts that windows and panels are put together from."""
