"""Plans: pieces put on what is bought.

strips      put on the lengths that are bought      boards       panels put on sheets
tops        lengths of worktop on what is bought    top_offers   what they may be cut from, with prices
cut_plans   tops and boards together                cut_lists    lists of pieces and stock typed as tables
lengths     plinths, strips, rolls of band, and what is left of them
slabs       tops made to measure on slabs
cut_order   the saw cuts of a length of stock, in turn
"""
