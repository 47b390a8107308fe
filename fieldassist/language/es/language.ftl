language-and = { $first } y { $last }
language-or = { $first } o { $last }
language-letter = { $letter } de { $word }
