"""Where the built program starts: the window, or a typed command."""

import multiprocessing
import sys

from designer.commands.main import main

if __name__ == "__main__":
    multiprocessing.freeze_support()
    sys.exit(main())
