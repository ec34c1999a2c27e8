"""Stock: what can be bought and for how much, and what the firm has.

articles    what can be ordered and its packs       prices       the price book
suppliers   a supplier's list into a price book     offcuts      what the firm has and what a job leaves
price_changes  what a new list does to a book, the greatest changes first
money_form  money and days as a locale prints them
money       the rule of rounding                    units        dimensions and units
steps       sizes as whole steps for the solvers    sources      where every figure comes from
texts       text that no spreadsheet may run
catalogue_check  what is wrong or missing in a firm's own catalogue
"""
