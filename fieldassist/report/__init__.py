"""What is handed over: the day told from its log (`story`, `told`), laid out on paper (`daily` and its parts)."""
