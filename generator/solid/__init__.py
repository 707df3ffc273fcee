"""Solids and STEP files: the only place of the modelling kernel.

`build` makes one part's solid, `step` writes files, `worker` has them written in a second process. Importing this
package or `worker` loads no kernel.
"""
