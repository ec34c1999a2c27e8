"""Measuring: shares of parts, edges and joins, and the rules that read them.

measures    shares of worktops, joins and cut-outs  unit_measures  shares of boards and hardware
fittings    what is fixed onto units and tops       definitions  what each measure is, and is not
unit_definitions  the same of boards and hardware   registry     every measure by its name
splashes    shares of splashbacks                   splash_definitions  the same of splashbacks
slabs       shares of tops made to measure          slab_definitions  the same of these
rules       rules as data, checked when they are read
"""
