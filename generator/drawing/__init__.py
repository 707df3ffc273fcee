"""The drawings: DXF documents with real dimensions, built from a description. The one place for the DXF library."""
