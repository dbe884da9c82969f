"""The command line: every answer and every export without a screen."""
