"""What a plan and the day's state imply for people: handling, dust, mortar, method and times.

Between the trade's computations, which know no plan, and whoever shows what they come to: screens, documents and the
command line all ask here, so that one question has one answer. Results are figures and codes of messages; every figure
that nobody gave is an `Assumption` and travels with the result that rests on it.
"""
