"""Files as the windows see them: what is asked before anything is written."""
