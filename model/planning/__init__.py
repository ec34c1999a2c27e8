"""Planning: from a surveyed room to runs that fit it.

fitting     widths and fillers that fill a length        stretches   the free lengths of a wall
run         a run of a kitchen file, fitted              brief       a room and what is wanted in it
shapes      along which walls, as grids to fill          score       how good a plan is, in points
search      the best plan of a shape                     compose     a plan as a kitchen document
hung        hood and wall units                          explain     a proposal in plain words
propose     the best different layouts, built and checked
"""
