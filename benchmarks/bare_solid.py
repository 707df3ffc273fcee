"""The yardstick: the least that a script with cadquery does for one turned solid in one STEP file.

python benchmarks/bare_solid.py FILE
"""

import sys

import cadquery

# A stepped shaft with a bore: length along x, radius along y, millimetres.
PROFILE = [(0, 4), (0, 9), (60, 10.5), (60, 20), (95, 20), (95, 15), (80, 15), (80, 4)]


def main() -> None:
    """Revolve the profile and write it to the file named on the command line."""
    solid = cadquery.Workplane("XY").polyline(PROFILE).close().revolve(360, (0, 0, 0), (1, 0, 0))
    cadquery.exporters.export(solid, sys.argv[1])


if __name__ == "__main__":
    main()
