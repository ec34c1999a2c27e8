"""Jobs: what is kept of a job from the first call to the last payment.

A job has a *diary*: entries that are added and never changed. What a job is now (its revisions, quotes, orders,
what is owed) is its *story*, a pure function of the diary. Texts and papers are kept as *contents*, by
their SHA-256, byte for byte. A *series* numbers papers without a gap.

engine      a SQLite file or a PostgreSQL database     migrations  the tables, in numbered steps
diary       the kinds of entries                        story       what a job is now
store       jobs, diaries, contents, series             revisions   kitchen files kept with a job
tax         how a country counts it, as data            invoices    stages, credit notes, the account
ordering    what is not ordered yet, or not needed           consequences  what a change means for what is cut
offcut_stock  the offcuts that the firm keeps, and their ledger
archive     a job as a folder, and back                 wording     an entry as a person reads it
"""
