"""Photo: the kitchen as a photograph of a room, for the customer.

places      boxes by which a camera is judged           view        where the camera stands, by rule
bevels      boards with their arrises taken off         setting     the room closed all round, and its light
dressing    what stands on the worktops, in no price    photo       the photograph as a file
tracer      light followed, in a process of its own
"""
