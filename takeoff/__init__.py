"""Takeoff: what a kitchen takes, counted from its parts and edges, priced, and traceable back to them.

Terms. A *measure* is a pure count or geometry over a kitchen; it gives *shares*, one for each part, edge, join,
cut-out or unit, in mm, mm², mm³, kg or as a count. A *rule* (data) says which measures bring which *article* by
which named terms. A *quantity* is one article with what was measured (net), its allowance, and what is ordered
in whole packs: two columns, never mixed. A *line* is a quantity with its price. Nothing stands on a line that is
not made of shares. A package imports only from those above it:

stock/      what can be bought and for how much, and what the firm has
cutting/    the solvers of lengths and sheets, which know no kitchen
measuring/  shares of parts, edges and joins, and the rules that read them
plans/      pieces put on what is bought
counting/   `take_off`: quantities, labour, money
report/     what becomes of a takeoff: tables, workbook, orders, comparisons
jobs/       a job from the first call to the last payment
"""
