"""Painters: the same drawing as SVG, PDF, PNG, or on a Qt painter.

Import the one you need: `svg` and `pdf` never load Qt, `png` and `qt` do.
"""
