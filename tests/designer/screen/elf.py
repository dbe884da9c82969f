"""Read from an ELF file (Linux program or library) which libraries it asks for by name."""

from __future__ import annotations

import struct
from pathlib import Path

NEEDED, STRINGS = 1, 5  # tags of the dynamic section: System V ABI, chapter 5
LOAD, DYNAMIC = 1, 2  # types of program headers: the same


def needed(file: Path) -> tuple[str, ...]:
    """Return the names in the NEEDED entries of a 64-bit little-endian ELF file."""
    data = file.read_bytes()
    assert data[:6] == b"\x7fELF\x02\x01", f"{file} is not a 64-bit little-endian ELF file"
    start, size, count = *struct.unpack_from("<Q", data, 32), *struct.unpack_from("<HH", data, 54)
    headers = [struct.unpack_from("<IIQQQQQQ", data, start + size * i) for i in range(count)]
    dynamic = next(h for h in headers if h[0] == DYNAMIC)
    entries = list(struct.iter_unpack("<qQ", data[dynamic[2] : dynamic[2] + dynamic[5]]))
    address = next(value for tag, value in entries if tag == STRINGS)
    load = next(h for h in headers if h[0] == LOAD and h[3] <= address < h[3] + h[5])
    strings = address - load[3] + load[2]
    names = []
    for tag, value in entries:
        if tag == NEEDED:
            begin = strings + value
            names.append(data[begin : data.index(b"\0", begin)].decode())
    return tuple(names)
