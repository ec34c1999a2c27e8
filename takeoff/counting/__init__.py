"""Counting: quantities, labour and money of a kitchen.

quantities  rules applied to measures               wording      formulas with their numbers filled in
board_quantities  boards counted by their sheets    top_quantities  worktops counted by their plans
terms       mark-up or margin, discounts, travel    labour       operations and minutes
pricing     lines with their money and tax, totals  takeoff      `take_off`, the one function that does it all
slab_quantities  tops made to measure by their slabs
uncounted   parts that no rule counts               accepted     gaps, and which may stand
delivery    carried is what is bought, not what the kitchen weighs
to_size     what is made to measure, piece by piece
extras      lines that the firm adds, overhead, the least charge
length_quantities  plinths, strips and rolls, with what is taken from offcuts
unit_costs  money for units, from a price book      join_plans   every way to place the joins
join_plan   one way to place them                   join_trials  a plan built and priced, or why it cannot be
rows_to_part  where a row may be joined in line
"""
