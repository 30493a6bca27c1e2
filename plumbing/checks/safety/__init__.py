"""Safety at the field."""
