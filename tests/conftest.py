"""What every test, and every notebook tested with them, needs: the machine is the demo machine, whoever runs them."""

import os

from hypothesis import HealthCheck, settings

os.environ["ROLLCALC_MACHINE"] = "demo"  # A machine.toml that lies beside the lessons must not change what they say.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # Small systems of equations: threads cost more than they bring.

# One profile for every property test: no clock of a shared machine decides, and drawing a whole machine may be slow.
settings.register_profile("house", deadline=None, suppress_health_check=list(HealthCheck))
settings.load_profile("house")
