"""The drawing board: marks, pictures, and the pages they are written on."""
