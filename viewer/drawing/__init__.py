"""The papers that a fitter cuts from: one drawing model, written as DXF, SVG and PDF.

shapes      sheets, views and what stands in them            strokes     what a line means and its pen
lettering   the room that words take                         spacing     labels apart, free places found
tracing     a view while it is drawn                         paper       border, heading, title block, imprint
setout      the datum of a length, its top and underside     ordinates   every number from that datum
conditions  letters of edges and the work that they take     handling    weight, people, blank
piece, piece_tables, piece_sheets    a length from above and from below
joint, joint_sheets                  a join pulled apart, and how the jig is set
jig, corner_setout                   which face is up, a jig fixed at 45°; a join from the walls of its corner
plan, elevation, fixtures            the kitchen from above, and each wall
front_sheets                         every front with its size and the holes for its handle
survey_sheet                         the room with every reading, and what to measure again
fitted_sheet                         what was measured on the fitted units, against the plan
behind, facts, open_findings         notches and scribe lines; facts in words; what is open
splashback_sheets           each splashback, its set-out or its panes
upstand, upstand_sheets              pieces of upstand
template, template_pages             cut-outs at full size, whole and on A4 or A3
request_sheets                       what a mason or another maker templates and makes tops from
scribe_sheets, scribe_strip          what comes off a back at a bowed wall, in numbers and at full size
bar_sheets, board_sheets             lengths and sheets of board with what is cut from them
label_sheets, qr                     a label for every piece
card, card_fitting, card_step, card_sheets   the order of work, with cautions at their step
fit_report, fit_panel, fit_sight, fit_signs   every finding drawn, the most serious first
dxf, svg, pdf                        the three writers
papers                               all sheets of a kitchen, and the folder that they go to
"""
