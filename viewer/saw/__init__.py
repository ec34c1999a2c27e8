"""The page for the saw: one step at a time on a phone, each cut alone, each mark measured twice.

slips     what a tape says where it was read or held wrongly, and why
cuts      every cut of the tops in the order of the card: its line, what falls off, what is measured
picture   a cut as seen from the face that is up
page      the page itself: one file, without a network
measured  what the page hands back, into the kitchen file as cut
"""
