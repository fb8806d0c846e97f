"""Words that documents write in English and people are told in their language: verdicts, states, measures."""

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
    # what clauses rest on, what consent says, what an inquiry comes to
    noted("common practice, no source"),
    noted("from memory"),
    noted("given"),
    noted("not recorded"),
    noted("withdrawn"),
    noted("stands"),
    noted("cannot be decided"),
    # what merged cases differ in
    noted("mark"),
    noted("posted score"),
    noted("consent"),
    noted("rule book"),
    noted("athlete code"),
    noted("inquiry"),
    # units that rule books write out
    noted("second"),
    noted("seconds"),
    noted("minute"),
    noted("minutes"),
    # who asks about what, and what has become of a mark
    noted("athlete"),
    noted("club"),
    noted("coach"),
    noted("delegation"),
    noted("federation"),
    noted("gymnast"),
    noted("judge"),
    noted("jury"),
    noted("parent"),
    noted("score"),
    noted("start value"),
    noted("difficulty"),
    noted("neutral deductions"),
    noted("falls"),
    noted("unusual occurrence"),
    noted("arithmetic"),
    noted("changes"),
    noted("changed"),
    # marks
    noted("eye"),
    noted("protractor"),
    noted("mount"),
    noted("dismount"),
    noted("spotted"),
    # what was measured, and how well
    noted("hand"),
    noted("elbow"),
    noted("shoulder"),
    noted("hip"),
    noted("knee"),
    noted("ankle"),
    noted("good"),
    noted("still"),
    noted("lens"),
    noted("body clicks"),
    noted("apparatus clicks"),
    noted("apparatus measures"),
    noted("side of the body"),
    noted("motion blur"),
    noted("upright clicks"),
    noted("both sides, not quite even"),
    noted("what all share"),
    noted("body clicks, spread of repeated clicks"),
    noted("the uncertainty is raised to cover it"),
    noted("no upright, roll not corrected"),
    noted("four points: nothing checks a wrong click or a wrong assumption"),
    noted("too little of the hall in the picture to tell"),
    noted("taken to stand still"),
    noted("the picture is damaged, what it shows may be of another moment: measure on a frame that is whole"),
    # how a picture was changed to be shown
    noted("first of two interlaced moments, lines between filled in"),
    # why a followed cast has no top
    noted("nothing could be followed"),
    noted("the highest frame lies at the end of what could be followed"),
    noted("the angle does not turn back where it is highest"),
    noted("the frames that were followed do not tell the moment of the top"),
)
"""What is not here is told in English."""

PLAIN = {
    # lines, bends and lengths
    "shoulder-ankle": noted("shoulder to ankle"),
    "shoulder-hip": noted("shoulder to hip"),
    "shoulder-knee": noted("shoulder to knee"),
    "hand-ankle": noted("hand to ankle"),
    "hand-hip": noted("hand to hip"),
    "hand-knee": noted("hand to knee"),
    "elbow-bend": noted("bend of the elbow"),
    "shoulder-bend": noted("angle of the shoulder"),
    "hip-bend": noted("bend of the hip"),
    "knee-bend": noted("bend of the knee"),
    "leg-separation": noted("legs apart"),
    "hip-over-rail": noted("hip above the rail"),
    "shoulder-over-rail": noted("shoulder above the rail"),
    "ankle-over-rail": noted("ankle above the rail"),
    "hip-over-knee": noted("hip above the knee"),
    "step": noted("length of the step"),
    "foot-from-rail": noted("foot from below the rail"),
    # points of the bars
    "low-rail-near": noted("near end of the low rail"),
    "low-rail-far": noted("far end of the low rail"),
    "low-foot-near": noted("near foot of the low bar"),
    "low-foot-far": noted("far foot of the low bar"),
    "high-rail-near": noted("near end of the high rail"),
    "high-rail-far": noted("far end of the high rail"),
    "high-foot-near": noted("near foot of the high bar"),
    "high-foot-far": noted("far foot of the high bar"),
    # marks
    "full-speed": noted("full speed"),
    "slowed": noted("slow motion"),
    "jump-to-high-bar": noted("a jump to the high bar"),
    "one-foot-at-a-time": noted("one foot at a time"),
    "spotted-on-landing": noted("spotted on landing"),
    "not-feet-first": noted("not landed feet first"),
    "fell-before-completion": noted("fallen before it was complete"),
    "touched-floor": noted("the floor touched"),
    # why a followed cast was lost
    "appearance": noted("the joint could not be told from what looks like it"),
    "flow": noted("the joint moved otherwise than a body does"),
    "left the picture": noted("a joint left the picture"),
    "limb length": noted("the joints came to lie as no body has them"),
    "clicks disagree": noted("following from two clicked frames came to different places"),
    "camera": noted("how the camera turned could not be told"),
    "damaged": noted("the recording is damaged there"),
}
"""What a document calls by a short word, and what people are told instead."""

SIZED = (
    noted("published: {place}"),
    noted("body clicks, {size} px assumed"),
    noted("body clicks, {size} px stated"),
    noted("camera roll up to {size} degrees assumed"),
    noted("camera yaw up to {size} degrees assumed"),
    noted("{count} judges"),
    noted("roll only: camera yaw not corrected, taken to be up to {size} degrees"),
    noted("camera yaw not corrected, taken to be up to {size} degrees"),
    noted("{count} points do not give the camera, click six or more"),
    noted("{point} lies {size} px from where it can be and was left out"),
    noted("{point} lies {size} px off, more than clicks explain"),
    noted("the judges differ by {size} degrees, more than clicks explain"),
    noted(
        "the line points back from its first joint: see which joint is which and to which side the body is "
        "cast"
    ),
    noted(
        "the line points back from its first joint, and not on the side named: see which joint is which and "
        "to which side the body is cast"
    ),
    noted(
        "{first} to {second} is {size} mm long, which it cannot be on an athlete: see joints, height and "
        "points"
    ),
    noted(
        "{first} to {second} is {size} mm long, which it cannot be on an athlete of {height} mm: see joints, "
        "height and points"
    ),
    noted("turned up to {size} degrees"),
    noted("lost on frames {stretches}"),
    noted("the hips are bent by {size} degrees at the highest frame"),
    noted("the highest angle is uncertain by {size} degrees from clicks alone"),
    noted("{kind} shown as standard range"),
)
"""Sentences that documents keep with a size in them, as `Saying.retold` finds them again."""
