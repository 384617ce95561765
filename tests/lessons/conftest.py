"""What tests of lessons share: a machine file of one's own."""

import pytest

import rollcalc as rc


@pytest.fixture
def own_machine(tmp_path, monkeypatch):
    """Return what puts a machine into the learner's machine file."""
    def put(machine):
        rc.write_machine(machine, tmp_path / "machine.toml", overwrite=True)
        monkeypatch.setenv("ROLLCALC_MACHINE", str(tmp_path / "machine.toml"))
    return put
