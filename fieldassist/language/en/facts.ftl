# The facts of a day, for other programs.

facts-no-day = This record opens no day, so there are no facts to tell.
facts-unsound = The events of this record do not follow from each other ({ $why }), so there are no facts to tell.
facts-not-set = no tile was set here yet
