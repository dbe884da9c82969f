"""The library: folders of routines, searched, compared, made harder or easier."""
