"""Faults of a finished drawing, read from its DXF file and from nothing else."""
