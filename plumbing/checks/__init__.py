"""One check a file, in folders by subject, or a row of statements; no check knows another."""
