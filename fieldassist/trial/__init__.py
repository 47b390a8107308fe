"""Mock-up trials: which notch and method really works here. The design, what the samples say, and what follows."""
