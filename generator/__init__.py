"""The engine: one description of a tool, and the readers that turn it into checks, sheets, solids and a plan."""
