"""`python -m catalogue` is the command `catalogue`."""

import sys

from catalogue.cli import main

if __name__ == "__main__":
    sys.exit(main())
