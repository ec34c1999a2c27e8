"""The model: from what a person measured to every part of a kitchen. Pure functions; files are read at the rim.

Document ─ Survey ─ Layout ─ Worktops ─ Parts, one direction and no way back:

document    what a person typed, as a strict schema        strict_yaml  untrusted files into such schemas
catalogue   what can be bought, what units are made of     survey       walls in their places, misclosure shared
layout      runs and islands, unit by unit                 units/       boards of a unit, one module a construction
worktops    lengths of top over rows of units              joins        how two lengths share a corner
edges       the condition of every stretch of boundary     cutouts      sinks and hobs let in
profile     plane shapes with real noses and radii         part         one thing that is cut, bought or fitted
solids      the seam to the geometry kernel                frames       every change of frame
fit         what has no place is refused                   checks/      what is unwise is a finding
kitchen     `build`: document and catalogue to a Kitchen

Millimetres, degrees, kilograms. The words female, male, shoulder, notch and web are explained in `model.joins`;
stretch, length and end in `model.worktops`.
"""
