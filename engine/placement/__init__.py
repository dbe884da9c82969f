"""Placement: cushion measurements from which anyone can set the table."""
