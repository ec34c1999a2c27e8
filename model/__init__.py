"""The model: from what a person measured to every part of a kitchen. Pure functions; files are read at the rim.

Document ─ Survey ─ Layout ─ Worktops ─ Parts, one direction and no way back:

document    what a person typed, as a strict schema        strict_yaml  untrusted files into such schemas
catalogue   what can be bought, what units are made of     survey/      walls in their places, what else is there
family      a kind of unit as a row of data                method       how carcasses are made and filled, as data
sizes       width and wing of a unit                       mirror       the same kitchen, left for right
corners     where runs with a corner unit begin            infill       top before a diagonal corner unit
placed      a unit and a run in their places               layout       runs and islands, unit by unit
units/      boards of a unit, one module a construction
rows        unbroken rows of units, how their tops end     worktops     the lengths of top over them
joins       where two lengths meet, of any kind            stations     bolts and biscuits, clear of unit sides
corner_joins  mitre and butt in a corner of the room       in_line      rows longer than their stock
tees        peninsulas on a front edge                     free_ends    corners rounded or clipped
slots       what joins take out of the underside           marks        slots and starter holes, to set out
notches     round columns, boxings and breasts             upstands     strips that stand on the tops
edges       the condition of every stretch of boundary     cutouts      what is let in, and its line to cut
plain_cutouts  sizes typed from a maker's sheet        scribe       bowed walls behind a top
blanks      what the saw makes of a blank
profile     plane shapes with real noses and radii         part         one thing that is cut, bought or fitted
solids      the seam to the geometry kernel                frames       every change of frame
fit         what has no place is refused                   checks/      what is unwise is a finding
edits       a document with fields changed                 cures/       the smallest change that cures a finding
readings    measurements and how far off they may be       neighbours   what runs stand between
against     ceilings above and bowed walls behind runs     certainty   how sure it is that a run fits
carry/      whether a piece can be carried in              planning/   from a room to runs that fit it
stages      the way in, as measured                        strict      what every schema has in common
slips       mistyped numbers, and what was meant           strict_csv  untrusted tables into rows of named cells
errors      what can go wrong, as one small family         files       written whole or not at all
tolerance   every tolerance, with its meaning              arrange     units and rows put elsewhere in a document
kitchen     `build`: from a document to a Kitchen

Millimetres, degrees, kilograms. The words female and male are explained in `model.joins`, shoulder and notch in
`model.corner_joins`; stretch and end in `model.rows`, length in `model.worktops`.
"""
