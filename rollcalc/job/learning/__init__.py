"""Learning: what the passes of a job teach about metal, pinch and touch."""
