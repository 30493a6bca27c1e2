"""Result sheets as plain tables, shared by the page and the dossier."""
