"""``python -m rollcalc``: the same as the command ``rollcalc``."""

from .launcher import main

raise SystemExit(main())
