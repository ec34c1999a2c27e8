"""Facts: what checks, takeoff and drawings all ask of a kitchen.

plans       plans, heights and distances            lifting      how many people lift a piece
screws      how long those from below may be         once         worked out once for a kitchen
setting_out  slots and starter holes                 status       how far a figure was looked up
bends       straight units that meet in a wide corner   masses       what units weigh, and what they hold
covering    what tops stand past and leave bare      faces        fronts with their sizes and holes
"""
