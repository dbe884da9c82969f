"""The version of the engine, written into every answer so that figures can be traced."""

VERSION = "0.1.0"
