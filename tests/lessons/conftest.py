"""What every test of the lessons needs: the machine is the demo machine, whoever runs them."""

import pytest

from rollcalc.rolling import machine_file


@pytest.fixture(autouse=True)
def without_a_machine_file(monkeypatch):
    """Ignore a machine.toml that lies in a folder above: panels are tested on the machine of the lessons."""
    monkeypatch.setattr(machine_file, "FILE_NAME", "no-such-machine.toml")
