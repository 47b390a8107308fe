# The page of signatures and seal, and the pages of addenda.

closing-title = Signatures
closing-addendum = Addendum { $number }
