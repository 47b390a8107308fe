rules-data-sheet = data sheet of { $product }, the product's data sheet
rules-checklists-own = this checklist's own number
rules-lift-part-corners = whether corners and edges are full
rules-lift-part-largest-void = how large the largest void is
rules-no-fact = no fact is called '{ $given }'; allowed: { $allowed }
rules-no-such-figure = { $calculation } has no figure called '{ $given }'; allowed: { $allowed }
rules-no-figures = { $calculation } gives no figure, and so none called '{ $given }'
rules-few-pieces = { $basis }; with { $pieces ->
    [one] { $pieces } piece
   *[other] { $pieces } pieces
} one in three, at least one: our own rule, fewer than the standard's { $standard }
rules-mock-up-stands-in = { $basis }; a mock-up with the same method stands in for the first
