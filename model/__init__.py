"""The model: from what a person measured to every part of a kitchen. Pure functions; files are read at the rim.

Document ─ Survey ─ Layout ─ Tops ─ Parts, one direction and no way back. A package imports only from
those above it:

errors      what can go wrong, as one small family
tolerance   every tolerance, with its meaning
ties        which of equals is taken
kept        what an edit leaves alone is made once
showing     whether inches stand beside millimetres
files/      untrusted files into strict schemas, and files written whole
document/   what a person typed, as a strict schema
kinds/      what follows from a construction or an appliance
catalogue/  what can be bought, and what units are made of
geometry/   frames, plane shapes, parts and their solids
carry/      whether a piece can be carried in
adjustment/  points from more readings than are needed, by least squares
survey/     walls in their places, and what else is in the room
layout/     runs and islands in their places, unit by unit
units/      boards of a unit, one module a construction
tops/       lengths of worktop: rows, joins, edges, cut-outs, upstands
fitted/     the room and the runs as they were measured once units stood
fit         what has no place is refused
kitchen     `build`: from a document to a Kitchen
certainty/  how sure it is that a run fits
facts/      what checks, takeoff and drawings all ask of a kitchen
checks/     what is unwise is a finding
edit/       documents with fields changed, units moved, mirrored
cures/      the smallest change that cures a finding
differences  what was fitted against what was planned
planning/   from a room to runs that fit it

Millimetres, degrees, kilograms. The words female and male are explained in `model.tops.joins`, shoulder and notch
in `model.tops.corner_joins`; stretch and end in `model.tops.rows`, length in `model.tops.worktops`.
"""
