"""The commands on jobs.

keeping    what they share                          diary    jobs opened, found, shown, saved, moved
money      quotes, variations, invoices, payments   orders   what changed, what is ordered, what came
"""
