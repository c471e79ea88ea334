"""`python -m cogwright` is the command `cogwright`."""

import sys

from cogwright.cli import main

if __name__ == "__main__":
    sys.exit(main())
