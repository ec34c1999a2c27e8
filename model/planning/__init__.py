"""Planning: from a surveyed room to runs that fit it.

fitting     widths and fillers that fill a length        stretches   the free lengths of a wall
run         a run of a kitchen file, fitted              brief       a room and what is wanted in it
arms        rows along walls as grids to fill            shapes      straight, divided, L, U and galley in a room
islands     the largest that stands free before a row    orders      who stands left of whom, on which arm
costs       money for units, as mm of plain row          ranges      the families that layouts are made of
plan        where everything stands, the hard rules      score       how good a plan is, in points
search      the best plan of a shape                     compose     a plan as a kitchen document
hung        hood and wall units                          differ      how far two plans are apart
explain     a proposal in plain words                    refused     which rule stands in the way of any plan
propose     the best different layouts, built and checked

A *brief* is a room with wishes, a *shape* what a kitchen could lie along, a *plan* where in it everything stands, a
*proposal* a plan that was built and checked. Local codes, makers' sheets and licensed trades decide about it.
"""
