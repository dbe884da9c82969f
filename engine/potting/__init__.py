"""Potting geometry: potting line, contact position, cut angle, fullness, blocked lines."""
