"""Files made to do harm, or broken by chance, each subject in a file of its own; `tests.fuzz` breaks them on and on."""
