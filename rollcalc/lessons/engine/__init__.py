"""What every lesson is made of: panels, exercises, derivations, the glossary."""
