"""The viewer: whatever a person sees or calls. A package imports only from those above it:

scene/      a kitchen as meshes with materials, and as glTF
scene3d/    the 3D view in the browser
drawing/    the papers that a fitter cuts from
saw/        the page for a phone at the saw
stills/     pictures without a screen
photo/      the kitchen as a photograph of a room
quoting/    the customer's quote, orders, van list, handover
app/        the app, in places
commands/   the commands
"""
