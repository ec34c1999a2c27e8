"""Tops: lengths of worktop over the units, how they meet, and what is cut out of them.

rows        unbroken rows of units, how tops end    worktops     the lengths of top over them
joins       where two lengths meet, of any kind     stations     bolts and biscuits, clear of unit sides
corner_joins  mitres and butt in a corner           in_line      rows longer than their stock
bands       where a join in line may lie             join_limits  why a plan of joins cannot be had
placed_joins  where joins go by stock
tees        peninsulas on a front edge              free_ends    corners rounded or clipped
waterfalls  ends that go on down to the floor
slots       what joins take out of the underside    notches      round columns, boxings and breasts
edges       the condition of every stretch of boundary
cutouts     what is let in, and its line to cut     plain_cutouts  sizes typed from a maker's sheet
upstands    strips that stand on the tops           infill       top before a diagonal corner unit
splashbacks  what covers the wall over the tops      reveals      where tops run on into windows
scribe      bowed walls behind a top                blanks       what the saw makes of a blank
"""
