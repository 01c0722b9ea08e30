"""Proves on site what was printed and taped: printers as measured, readings of a rule, their diagnosis, and
what to read next.
"""
