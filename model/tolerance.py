"""Every tolerance of the model, once, with its meaning. Millimetres unless said."""

CONTACT = 1e-6
"""Two lines or faces closer than this are the same."""

FIT = 0.05
"""A body may pass into a wall or its neighbour by this much before it is refused: less than a tape shows."""

ARC = 0.02
"""The furthest that a straight segment may stand off the arc that it replaces."""

OVERLAP_VOLUME = 1.0
"""mm³; two different parts may share no more than this."""

VOLUME_RELATIVE = 1e-9
VOLUME_LEAST = 1e-5
"""A solid's volume may differ from area × thickness by this share of it, or by this many mm³ if it is small."""

MISCLOSURE_ANGLE = 1.0
"""Degrees by which the inside angles of a closed survey may miss (n − 2)·180 (common practice, no source)."""

MISCLOSURE_LENGTH = 30.0
"""How far a closed survey may end from its start before it is refused (common practice, no source)."""

MISCLOSURE_DIAGONAL = 15.0
"""How far a room's diagonal may miss what walls and corners make of it (common practice, no source)."""

OVERLAP_AREA = 1e-3
"""mm²; plan areas that share less than this only touch."""

ON_LINE = 1e-4
"""A boundary point this near to a line lies on it."""

COVERAGE = 2.0
"""A reading's ± in standard deviations: 19 in 20 lie within (coverage factor of JCGM 100, the GUM, from memory)."""

READING = 0.5
"""What a tape shows; nearer than this to a wall's end a reading is at its end."""

EQUAL = 1e-3
"""Of things that measure the same but for this none is nearer, longer or better: see `model.ties`. Also mm²."""

NOISE = 6
"""Decimals at which the noise of reckoning is gone and every typed figure still whole."""
