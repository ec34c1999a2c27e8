"""Document: what a person typed or measured, as a strict schema.

schema      the kitchen file                        stages       the way in, as measured
room        of it, what was surveyed                fields       what single values may be
as_cut      what was read at the saw                allowances   what is left free round a top
keys        what lasts while a kitchen is changed   measured     more measurements of a room, one a row
fitted      what was measured on the fitted units   duct         the way out of what is drawn off
accepted    musts that are not met and accepted by name and reason
"""
