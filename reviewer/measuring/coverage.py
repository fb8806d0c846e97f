"""How many standard uncertainties cover 95 %."""

from reviewer.terms.intervals import Z95_MILLIONTHS

Z95 = Z95_MILLIONTHS / 1_000_000


def factor95(total: float, repeated: float, freedoms: int | None) -> float:
    """The factor for 95 %, where one part of the total rests on few repeated clicks.

    Degrees of freedom by Welch and Satterthwaite (JCGM 100, G.4.1), all other parts taken as known; the point
    of Student's distribution.
    """
    if freedoms is None or not repeated:
        return Z95
    from scipy.special import stdtrit

    effective = freedoms * (total / repeated) ** 4
    return float(stdtrit(effective, 0.975))
