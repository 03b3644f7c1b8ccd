"""What would do for one rider at one event: rule by rule, and for the whole verdict."""
