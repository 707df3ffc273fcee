"""How a tool is made: set-ups and what each earns, bar to cut, settings for the taper, what to measure.

Reads the description, the tables and the shop calculations; knows nothing of drawings, prints or kinds of tool.
"""
