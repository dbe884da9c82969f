"""DejaVu Sans, shipped with the designer so that every screen and sheet looks the same."""
