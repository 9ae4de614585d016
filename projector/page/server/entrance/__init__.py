"""Who may come in: secrets, hosts and origins, phones by their codes, connections that only wait."""
