rules-data-sheet = data sheet of { $product }, the product's data sheet
rules-checklists-own = this checklist's own number
rules-lift-part-corners = whether corners and edges are full
rules-lift-part-largest-void = how large the largest void is
rules-no-fact = no fact is called '{ $given }'; allowed: { $allowed }
rules-no-such-figure = { $calculation } has no figure called '{ $given }'; allowed: { $allowed }
rules-no-figures = { $calculation } gives no figure, and so none called '{ $given }'
