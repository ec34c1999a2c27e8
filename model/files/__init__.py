"""Files: untrusted text into strict values, and files written whole or not at all.

strict       what every schema has in common       strict_yaml  kitchen files, catalogues and rules
strict_csv   tables into rows of named cells        slips        mistyped numbers, and what was meant
whole        written whole or not at all             writing      data as YAML, as people write it
changeover   what a command leaves behind, put in its place once all else is done
held_back    Ctrl-C waits while a name is taken
folders      a folder changed over as one            exchange     two folders change places
manifest     which files were made here, from what
rewriting    a text that says other data, little changed    comments     where they stand in a text
pairing      which item of a list was which          inches      lengths as a rule in inches is read
surprise     what nobody foresaw, kept in a report  remembered   what was made of a file, by its content
"""
