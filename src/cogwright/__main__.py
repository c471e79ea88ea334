"""`python -m cogwright` is the command `cogwright`."""

import sys

from cogwright.cli import main

sys.exit(main())
