"""Routes, passages and what they must keep clear of."""
