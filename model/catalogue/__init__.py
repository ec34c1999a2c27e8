"""Catalogue: what can be bought, and what units are made of, as data.

catalogue   boards, stocks, decors, cut-outs        family       a kind of unit as a row of data
method      how carcasses are made and filled       front        styles of fronts and handles
light       lights under wall units
"""
