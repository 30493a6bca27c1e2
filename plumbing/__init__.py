"""Design checker for the fuel systems of large model aircraft flown on small turbines."""
