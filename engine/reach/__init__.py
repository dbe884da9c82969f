"""Reach: which tip heights and paces send the cue ball through a gap."""
