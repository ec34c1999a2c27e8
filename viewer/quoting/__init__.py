"""Quoting: from a takeoff to papers: the customer's quote, orders by supplier, the van list, and the handover.

words      what is made and fitted, in plain words      customer   the quote as data
options    kitchens changed by name, priced as well     workshop   orders and handover as data
van        what goes to the site, by mark, in the order of loading
typeset    data and a sheet made into a PDF             quote      a kitchen quoted: everything that it takes
sent       papers of a job, made from its store and kept there
ordered    what a job lacks, ordered; and what changed between two revisions
views      the price trade by trade and place by place
folder     everything written to a folder

Sheets are typst files under ``sheets/``; each reads its words from one JSON file, so that nothing that a customer
or a supplier typed is ever taken for markup.
"""
