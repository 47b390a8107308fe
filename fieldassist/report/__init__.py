"""What is handed over: the day built from its log (`build`, `report_model`), laid out on paper (`daily` and others)."""
