"""The app: one kitchen through all its places.

app         the page that Streamlit runs            places/      where each of the people works
bar         the bar over every place                style        how the page looks
session     a session's desk: kitchen, undo, edits  history      steps back and forward
changes     edits in words                          new_room     an empty room to begin with
address     a kitchen in the page's address         way          the browser's Back and Forward
reading     everything read from one kitchen, kept  clearances   volumes of findings in the view
checking    findings and cures for screens          tables       a takeoff, and two compared, in rows
surveying   a survey in tables                      part_page    all that is known of a picked part
offers      decors that may be tried on             customer_html  one page for the customer
origins     which pages may talk to the server      terminal     rows as a table of text
"""
