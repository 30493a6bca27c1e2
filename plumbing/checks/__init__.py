"""One check a file, in folders by subject; no check knows another."""
