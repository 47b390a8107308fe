"""What is handed over: the day told from its log (`story`), laid out on paper (`sheet`, `charts`, `daily`)."""
