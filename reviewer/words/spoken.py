"""Words that documents write in English and people are told in their language: verdicts, reasons, states."""

from reviewer.terms.messages import noted

SPOKEN = (
    # verdicts and casts
    noted("met"),
    noted("within"),
    noted("short"),
    noted("within tolerance"),
    noted("not met"),
    noted("cannot tell"),
    noted("not seen"),
    # why credit was withheld
    noted("spotted"),
    noted("repeated"),
    noted("restricted"),
    noted("unlisted"),
    noted("lower-division"),
    noted("below-tolerance"),
    noted("fell-before-completion"),
    noted("not-feet-first"),
    noted("third-mount-part"),
    noted("one-foot-at-a-time"),
    noted("not-seen"),
    # what clauses rest on, what consent says, what an inquiry comes to
    noted("common practice, no source"),
    noted("from memory"),
    noted("given"),
    noted("not recorded"),
    noted("withdrawn"),
    noted("stands"),
    noted("cannot be decided"),
    # marks
    noted("eye"),
    noted("protractor"),
    noted("full-speed"),
    noted("slowed"),
    # what was measured, and how well
    noted("shoulder-ankle"),
    noted("hand-ankle"),
    noted("shoulder-hip"),
    noted("good"),
    noted("body clicks"),
    noted("body clicks, 2 px assumed"),
    noted("apparatus clicks"),
    noted("apparatus measures"),
    noted("lens"),
    noted("side of the body"),
    noted("motion blur"),
    noted("upright clicks"),
    noted("four points: nothing checks a wrong click or a wrong assumption"),
)
"""What is not here is told in English."""
