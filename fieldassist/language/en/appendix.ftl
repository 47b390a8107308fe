# The appendix of a day's documents.

appendix-title = Appendix
appendix-attached = Attached files
