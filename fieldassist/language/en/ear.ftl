# What became of what was heard.
ear-say-again = Say it again.
ear-call-alone = the attention phrase alone
ear-silence = silence: nothing was said
ear-no-call = it does not begin with the attention phrase
ear-needs-call = it needs “{ $phrase }” before it
ear-number-alone = a number alone is taken right after its question only
ear-sounds-like-call = talk that only sounds like a call
ear-no-words = no words were heard
ear-talk = talk that is not one of the phrases
ear-no-clear-yes = not clearly a yes
ear-could-be = it could be { $values }
ear-none-of-the-phrases = the words are none of the phrases
ear-near-other-talk = other talk explains it nearly as well
ear-heard-almost-as-well = '{ $words }' was heard almost as well
ear-letter-unheard = a letter before the number may have gone unheard
ear-did-you-mean = Did you mean { $values }? Say it with its unit.
ear-which-name = Did you mean { $values }?
ear-yes-or-no = { $question } Say '{ $yes }' or '{ $no }'.
    .ear = { $question } '{ $yes }' or '{ $no }'.
ear-you-can-say = I did not get that. You can say { $hints }.
    .ear = Not understood. Say { $hints }.
ear-no-note-made = No note is made.
ear-no-note-spoken = No note was spoken.
ear-note-heard = { $answer } I heard: { $words }.
ear-part-lost = a part of it was lost
ear-not-all-heard = I did not hear all of it. Say it again.
ear-nothing-heard-any-more = Nothing is heard any more. Go on by touch or typing, or open the microphone again.
ear-attention-unknown = '{ $phrase }' cannot be the attention phrase: the speech model does not know { $words }. Choose two or more usual words.
ear-attention-one-word = '{ $phrase }' cannot be the attention phrase: one word is heard in any talk. Choose two or more usual words.
ear-level = { $level ->
    [all-words] All words.
    [sounds] Only sounds.
   *[few-words] Few words.
}
ear-chain-stopped = Taken: { $taken }. Stopped at '{ $words }': { $why }
ear-said-alone = that is said by itself
ear-not-told-yet = what it answers was not told yet when this was begun
