"""`python -m slabtide.cli`."""

import sys

from slabtide.cli import main

sys.exit(main())
