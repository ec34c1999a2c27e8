"""Edit: a document with something changed. Nothing is built here.

edits       fields changed                          arrange      units and rows put elsewhere
mirror      the same kitchen, left for right
"""
