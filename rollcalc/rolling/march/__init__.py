"""A strip marched through the rolls, for what no steady state tells."""
