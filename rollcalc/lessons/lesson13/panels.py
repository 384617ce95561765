"""The panel of lesson 13: your job, from the piece to the card."""

from .job_panel import JobPanel


def job() -> JobPanel:
    """Return the panel of lesson 13."""
    return JobPanel()
