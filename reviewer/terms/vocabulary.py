"""The closed lists of words that a rule book may use for what it settles."""

STATUSES = ("listed", "lower division", "restricted", "unlisted")
"""What a division may say of an element."""
RESTRICTED = "restricted"
"""The status whose elements cost a deduction of their own."""
SCOPES = ("each", "element", "exercise")
"""How often a fault is taken: each time, once an element, once an exercise."""
CAST_SCOPES = ("exercise", "element")
"""How often the cast's tolerance is charged: on the best cast alone, or on each within it."""
COUNTINGS = ("credited", "performed")
"""Which elements are counted where a routine is short of them."""
REPEATS = ("each time", "once")
"""How often one restricted element costs."""
REASONS = (
    "spotted",
    "repeated",
    "restricted",
    "unlisted",
    "lower-division",
    "below-tolerance",
    "fell-before-completion",
    "not-feet-first",
    "third-mount-part",
    "one-foot-at-a-time",
    "not-seen",
)
"""Every reason for which credit may be withheld."""
TESTS = ("condition", "status", "cast", "parts", "times")
"""What may withhold credit: a condition said of the element, its status, its cast, its place among the
parts of one role, or how often it has earned."""
CAST_FAULTS = ("short", "not seen")
"""What a cast may lack: the tolerance's lower edge, or anybody who saw it."""
SAME_BY = ("code", "called")
"""What makes two elements the same one: their code, or what the judge called them."""
ROUNDINGS = ("truncate", "half up")
"""How an average that does not come out is brought to thousandths."""
HELD_AGAINST = ("final score", "average")
"""What the courtesy score is held against."""
ORDERS = ("either", "as written")
"""In which order the two elements of a connection may come."""
THAT_ROLE = ("always counts", "counts as any other")
"""Whether the element of one role is among the counting ones whatever its value."""
TIE_STEPS = ("execution", "difficulty")
"""What may decide between equal totals."""
QUESTIONS = ("asked-by", "about", "within", "recording", "result", "fee")
"""What a clause on inquiries may settle, one each."""
RECORDINGS = ("may be used", "may not be used")
"""Whether a recording may be looked at for an inquiry."""
RESULTS = ("rises", "stays", "falls")
"""What an inquiry may do to a score."""
FIRST, SECOND, NEITHER = "first", "second", "neither"
TAKEN = (FIRST, SECOND, NEITHER)
"""Whose view of a line the settlement of two sheets takes."""
