"""Places: the app as each of the people meets it. One kitchen goes through all of them.

design      where it is laid out                 show       what the customer sees, and may choose instead
fit         what is checked and cut from         count     what the estimator counts, prices and orders
rows_form   units row by row, and the strip      strip      a row in elevation
strip_view  and how units are dragged along it
propose_form  layouts for an empty room
room_form   walls and what is on them            fitted_form  what was measured on fitted units
top_form    top, fronts, joins, shaped corners, upstand
set_in_form  sinks, hobs and appliances          job_form   name, people, region, the way in
grid        editable tables of lists             columns    what their columns are called
planned     cutting plans, made when asked for   downloads  papers made when asked for
beside      the 3D view beside a place           drawn      sheets as pictures on the screen
actuals_form  what a job took, and figures to plan with next
names       of places and views                  choosing   one line of a table, one of the views
jobs        jobs of the store, found and opened
priced      the price book, edited in place      options    what may be chosen instead, priced
lengths     fields in millimetres or inches
own_catalogue  a firm's units, boards, tops, articles and prices

A place draws itself from a `viewer.app.session.Desk` and asks it for edits; it remembers nothing of its own.
"""
