"""Table and conditions: which table, how it plays, measured, calibrated, moved to another."""
