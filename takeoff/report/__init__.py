"""Report: what becomes of a takeoff.

report      JSON and CSV                            workbook     XLSX with live formulas
sheets      how every sheet looks and is printed    compare      two takeoffs line by line
comparison_sheet  the lines that differ, live sums  options      changes listed by name
options_sheet  what each option changes, live       line_formulas  packs and money of a line, as formulas
orders      what is bought, by supplier             origin       what the files of a command are made from
actuals     what a job really cost, and what to plan with next
"""
