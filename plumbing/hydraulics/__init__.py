"""The fuel network as frozen arrays, the losses along it, and the batch solver."""
