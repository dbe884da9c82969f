"""Loading OpenCV leaves the environment as it was, for programs that are started later."""

import os
import subprocess
import sys

import pytest

PROGRAM = """
import os
from engine.photo.vision import opencv
opencv()
print(repr(os.environ.get("LD_LIBRARY_PATH")))
print(opencv().getNumThreads())
"""


@pytest.mark.parametrize("before", ["/opt/thistlewharf/lib", None])
@pytest.mark.slow
def test_the_path_of_libraries_is_as_it_was(before, monkeypatch):
    from engine.photo import vision

    if before is None:
        monkeypatch.delenv("LD_LIBRARY_PATH", raising=False)
    else:
        monkeypatch.setenv("LD_LIBRARY_PATH", before)
    vision.opencv.cache_clear()
    library = vision.opencv()
    assert os.environ.get("LD_LIBRARY_PATH") == before
    assert library.getNumThreads() == 1, "the window's cores are left to it"
    done = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == [repr(before), "1"]
