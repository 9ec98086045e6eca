"""`python -m holesched`."""

import sys

from holesched.cli import main

sys.exit(main())
