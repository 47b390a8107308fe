language-and = { $first } and { $last }
language-or = { $first } or { $last }
