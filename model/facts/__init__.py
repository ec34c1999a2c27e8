"""Facts: what checks, takeoff and drawings all ask of a kitchen.

plans       plans, heights and distances            lifting      how many people lift a piece
marks       slots and starter holes, to set out     once         worked out once for a kitchen
"""
