"""Standard things that tools are made of or meet: Morse shanks, rings, screws, the quill and its ejector.

Each function hangs faces and surfaces on a draft or returns a whole part; sizes come in ready-made, so that arrays of
designs pass through. Imports description and tables only.
"""
