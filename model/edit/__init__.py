"""Edit: a document with something changed, and the file that it stands in.

edits       fields changed                          arrange      units and rows put elsewhere
mirror      the same kitchen, left for right        kitchen_file  a text and the document that it says
"""
