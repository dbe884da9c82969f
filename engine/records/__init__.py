"""Practice records: who made how many of how many, kept in one file on this computer."""

from engine.records.bands import exact, wilson
from engine.records.csv_files import COLUMNS, parse_practice, practice_csv
from engine.records.store import Records
from engine.records.summary import NOT_SAID, DayShare, Line, Share, days_of, lines_of, share_of
from engine.records.values import MISSES, Kept, Practice, RecordsError, Taken

__all__ = [
    "COLUMNS",
    "MISSES",
    "NOT_SAID",
    "DayShare",
    "Kept",
    "Line",
    "Practice",
    "Records",
    "RecordsError",
    "Share",
    "Taken",
    "days_of",
    "exact",
    "lines_of",
    "parse_practice",
    "practice_csv",
    "share_of",
    "wilson",
]
