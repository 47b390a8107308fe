language-and = { $first } y { $last }
language-or = { $first } o { $last }
