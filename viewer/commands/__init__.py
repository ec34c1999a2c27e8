"""The commands of ``countersunk``.

start       the script, and Ctrl-C while it loads
main        the list of commands                    console      files, messages, progress in a terminal
making      what is made of one kitchen             serving      the app
check       findings and cures                      fit          widths that a run leaves out
joins       ways to place the joins                 propose      layouts for a room
quote       quotes, comparisons, prices             cut          lists of pieces on lists of stock
photo       the kitchen as a photograph
actuals     what a finished job really cost
catalogue   a firm's own units, boards and prices
saw         the page for the saw, and what was read there
job         the group of commands on jobs           jobs         and those
stock       the offcuts that the firm keeps
survey      what became of the measurements
cut_answer  the plan of such lists                  cut_tables   and as tables
"""
