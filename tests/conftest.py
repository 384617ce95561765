"""What every test, and every notebook tested with them, needs: the machine is the demo machine, whoever runs them."""

import os

os.environ["ROLLCALC_MACHINE"] = "demo"  # A machine.toml that lies beside the lessons must not change what they say.
