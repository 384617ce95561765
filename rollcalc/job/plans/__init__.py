"""Plans: a piece on a machine, pass by pass, and what is checked before."""
