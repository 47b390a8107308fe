language-and = { $first } and { $last }
language-or = { $first } or { $last }
# A letter of a name, with its word of the spelling alphabet. The comma makes a voice name the letter A, and not the article.
language-letter = { $letter ->
    [A] A, as in { $word }
   *[other] { $letter } as in { $word }
}
