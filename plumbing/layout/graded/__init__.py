"""From a file of a few lines to the full model: what is not said is filled in and listed."""
