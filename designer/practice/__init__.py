"""Practice: attempts kept, charts, reports, and how far players’ strikes stray."""
