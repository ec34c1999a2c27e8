"""Certainty: how sure it is that a run fits where its survey may be a little off.

certainty   how sure it is that a run fits          neighbours   what runs stand between
against     ceilings above and bowed walls behind   on_units     what was read on fitted units
"""
