"""Takeoff: what a kitchen takes, counted from its parts and edges, priced, and traceable back to them.

Terms. A *measure* is a pure count or geometry over a kitchen; it gives *shares*, one for each part, edge, join,
cut-out or unit, in mm, mm², mm³, kg or as a count. A *rule* (data) says which measures bring which *article* by
which named terms. A *quantity* is one article with what was measured (net), its allowance, and what is ordered
in whole packs: two columns, never mixed. A *line* is a quantity with its price. Nothing stands on a line that is
not made of shares.

units       dimensions and units                  measures   shares of worktops, joins and cut-outs
unit_measures  shares of boards and hardware      uncounted  parts that no rule counts
definitions    what each measure is, and is not   unit_definitions  the same of boards and hardware
registry    every measure by its name             rules      rules as data, checked when they are read
articles    what can be ordered and its packs     lengths    strips put on lengths that are bought
quantities  rules applied to measures             wording    formulas with their numbers filled in
boards      panels put on sheets                  cutting/   the solvers of lengths and sheets
board_quantities    boards counted by their sheets
tops        lengths of worktop on what is bought  top_offers  what they may be cut from, with prices
top_quantities      worktops counted by their plans
cut_plans   tops and boards together              offcuts    what the firm has and what a job leaves
steps       sizes as whole steps for the solvers
prices      the price book                        terms      mark-up or margin, discounts, travel, conditions
money       the rule of rounding                  quote      lines with their money, and totals
labour      operations and minutes                takeoff    `take_off`, the one function that does it all
fittings    measures of what is fixed onto units and tops
accepted    gaps, and which may stand             compare    two takeoffs line by line
options     changes listed by name                orders     what is bought, by supplier
suppliers   a supplier's list into a price book   join_plans  every way to place the joins, ranked
report      JSON and CSV                          workbook   XLSX with live formulas
sheets      how every sheet looks and is printed  comparison_sheet  the lines that differ, with live sums
sources     where every figure comes from         texts      text that no spreadsheet may run
"""
