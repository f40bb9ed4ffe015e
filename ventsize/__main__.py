"""`python -m ventsize`: the same as the `ventsize` command."""

import sys

from ventsize.cli import main

if __name__ == "__main__":
    sys.exit(main())
